/**
 * What whoever runs Ferrule needs: whether a node is well ({@link ferrule.upkeep.NodeWatch}), its figures
 * ({@link ferrule.upkeep.Figures}) and its log, and the records as a whole: backup, restore, move.
 *
 * <p>It works on the database as a whole, below all features, and knows no table by name but the log's.
 */
package ferrule.upkeep;

/**
 * Drills on the names of parts: what an instructor sets, the items that are drawn for one sitting, the answers and what
 * they count, and the rulings that an instructor makes on answers.
 *
 * <p>It knows {@code glossary}, {@code naming}, {@code drawing} and {@code people}. Start at
 * {@link ferrule.drill.Plan}; {@link ferrule.drill.ItemDraw} makes the items of a sitting,
 * {@link ferrule.drill.Marker} judges an answer, {@link ferrule.drill.DrillStore} keeps both;
 * {@link ferrule.drill.RulingBook} and {@link ferrule.drill.RulingStore} are about rulings.
 */
package ferrule.drill;

/**
 * Walking the instrument and looking parts up: a page for each assembly, kind and part with its drawing, names and
 * neighbours, and a search by what the trade calls things.
 *
 * <p>It knows {@code drawing}, {@code naming} and {@code glossary}, and nothing that people have done. Start at {@link
 * ferrule.atlas.Entry}, what is said of one part; {@link ferrule.atlas.Plates} chooses the views that show it.
 */
package ferrule.atlas;

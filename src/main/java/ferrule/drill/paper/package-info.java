/**
 * Drills on paper: worksheets in several versions, each with its key, and entering what apprentices wrote.
 *
 * <p>It stands on {@code drill}, which knows nothing of it: a paper that has been entered is a sitting like any other,
 * whose answers feed what is known, mix-ups and competencies. Start at {@link ferrule.drill.paper.Worksheet};
 * {@link ferrule.drill.paper.Versions} arranges one, {@link ferrule.drill.paper.Sections} lays it out,
 * {@link ferrule.drill.paper.Marking} judges what was entered, {@link ferrule.drill.paper.PaperStore} keeps all.
 */
package ferrule.drill.paper;

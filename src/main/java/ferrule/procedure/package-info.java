/**
 * How work is done at the bench and what can hurt in doing it: procedures as partial orders of steps, their tools,
 * materials and cautions, and the judging of orders in which the steps are put.
 *
 * <p>It knows {@code glossary} and {@code curriculum}. Start at {@link ferrule.procedure.Procedure}; an apprentice's
 * order is judged by {@link ferrule.procedure.OrderJudge}.
 */
package ferrule.procedure;

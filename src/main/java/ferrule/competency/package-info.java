/**
 * What an apprentice must be able to do and what proves it: the programme, its rules, and their evaluation with an
 * explanation.
 *
 * <p>It knows {@code bench} and {@code drill}, whose records are the evidence. Start at {@link
 * ferrule.competency.Requirement}, then {@link ferrule.competency.Evaluation}.
 */
package ferrule.competency;

/**
 * How work is done and what can hurt in doing it. For now the cautions.
 *
 * <p>It knows {@code glossary} and {@code curriculum}. Start at {@link ferrule.procedure.Cautions}.
 */
package ferrule.procedure;

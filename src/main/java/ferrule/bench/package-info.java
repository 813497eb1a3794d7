/**
 * Grading at the bench and the signed record of it.
 *
 * <p>A {@link ferrule.bench.Task} is graded by its criteria into a {@link ferrule.bench.Grade}; an instructor signs it,
 * and the {@link ferrule.bench.BenchRecord} of that enters the log of {@code ledger}, which is only ever added to. It
 * knows {@code procedure}, {@code people} and what is below them. Start at {@link ferrule.bench.Task}, then {@link ferrule.bench.Grading}, then {@link
 * ferrule.bench.BenchRecord}.
 */
package ferrule.bench;

/**
 * The cohort's picture for those who answer for it, and what leaves the house as a file.
 *
 * <p>It knows {@code competency}, {@code bench} and {@code drill}. Start at {@link ferrule.report.CohortReport}.
 */
package ferrule.report;

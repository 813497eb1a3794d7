/**
 * How far graders agree who judged the same work without seeing each other's grades, and which of them is the stricter.
 *
 * <p>It knows grades as categories and scores and nothing of pages or databases. Start at {@link
 * ferrule.report.agreement.Agreement}.
 */
package ferrule.report.agreement;

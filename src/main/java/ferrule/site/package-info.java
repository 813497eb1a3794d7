/**
 * The programmes ("sites") that one installation serves, strictly apart: each has its own people, roles, work and signed
 * log, in a schema of its own.
 *
 * <p>It knows {@code store} alone. Start at {@link ferrule.site.SiteStore}.
 */
package ferrule.site;

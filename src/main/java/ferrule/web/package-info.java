/**
 * The server and what every page shares: sessions, access by role, the page skeleton, error pages, static files.
 * Nothing of any feature.
 *
 * <p>It knows {@code people}. A feature offers its pages by {@link ferrule.web.Pages}; start there, then
 * {@link ferrule.web.WebServer}.
 */
package ferrule.web;

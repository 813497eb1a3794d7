/**
 * The program: configuration, wiring and the commands. It knows every other package; none knows it.
 *
 * <p>Start at {@link ferrule.app.Ferrule}, then {@link ferrule.app.Installation}.
 */
package ferrule.app;

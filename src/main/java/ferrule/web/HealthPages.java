package ferrule.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;

/**
 * What a supervisor and a proxy ask: whether the program runs ({@code /health/live}), and whether requests should come to
 * this node now ({@code /health/ready}: 200 if so, 503 with the reason if not).
 */
final class HealthPages implements Pages {

  /** What all its addresses begin with. */
  static final String ROOT = "/health/";

  private final Operations operations;

  HealthPages(Operations operations) {
    this.operations = operations;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get(ROOT + "live", ctx -> ctx.json(Map.of("status", "live")), Access.ANYONE);
    routes.get(ROOT + "ready", this::ready, Access.ANYONE);
  }

  private void ready(Context ctx) {
    Optional<String> why = operations.notReady();
    ctx.status(why.isEmpty() ? 200 : 503);
    ctx.json(why.isEmpty() ? Map.of("status", "ready") : Map.of("status", "not ready", "why", why.get()));
  }
}

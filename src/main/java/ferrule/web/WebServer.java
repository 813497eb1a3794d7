package ferrule.web;

import ferrule.people.PeopleStore;
import ferrule.people.SchoolDesk;
import ferrule.people.SchoolProvider;
import ferrule.site.Site;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.config.SizeUnit;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.http.staticfiles.Location;
import io.javalin.router.Endpoint;
import io.javalin.security.RouteRole;
import io.javalin.security.Roles;
import jakarta.servlet.DispatcherType;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import org.eclipse.jetty.ee10.servlet.FilterHolder;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.handler.GracefulHandler;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The running server: for each site the features' pages behind one gate, in one skeleton; one door for all sites. */
public final class WebServer implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(WebServer.class);
  private static final Duration STOP_WITHIN = Duration.ofSeconds(15);
  private static final Map<String, String> HEADERS =
      Map.of(
          "Content-Security-Policy",
              "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; "
                  + "frame-ancestors 'none'",
          "X-Content-Type-Options", "nosniff",
          "Referrer-Policy", "same-origin",
          "Permissions-Policy", "geolocation=(), microphone=(), payment=(), usb=()",
          "Cross-Origin-Opener-Policy", "same-origin",
          "Cross-Origin-Resource-Policy", "same-origin");
  /** For a year a browser that once came by https does not come to it or below it otherwise (RFC 6797). */
  private static final String ONLY_TLS = "max-age=31536000; includeSubDomains";

  private final Javalin javalin;

  private WebServer(Javalin javalin) {
    this.javalin = javalin;
  }

  /** Starts a server with these pages alone, for one site; it takes requests when this returns. */
  public static WebServer start(WebConfig config, PeopleStore people, List<Pages> features) {
    return start(config, Sites.only(new Hosted(new Site(Site.FIRST, ""), people, features)));
  }

  /** Starts a server for all of these sites, which nobody watches; it takes requests when this returns. */
  public static WebServer start(WebConfig config, Sites sites) {
    return start(config, sites, Operations.UNWATCHED);
  }

  /** Starts a server for all of these sites; it takes requests when this returns. */
  public static WebServer start(WebConfig config, Sites sites, Operations operations) {
    SiteDoor door = new SiteDoor(
        sites, hosted -> site(config, sites, hosted, operations, c -> {}).javalinServlet(), config.behindTls());
    Hosted first = sites.open(Site.FIRST).orElseThrow();
    FilterHolder holder = new FilterHolder(door);
    holder.setAsyncSupported(true);
    Javalin javalin = site(config, sites, first, operations, c -> c.jetty.modifyServletContextHandler(
        context -> context.addFilter(holder, "/*", EnumSet.of(DispatcherType.REQUEST))));
    return new WebServer(javalin.start(config.host(), config.port()));
  }

  private static Javalin site(
      WebConfig config, Sites sites, Hosted hosted, Operations operations, Consumer<JavalinConfig> more) {
    Gate gate = new Gate(hosted.people(), hosted.site(), config.behindTls(), config.school().map(SchoolProvider::title));
    List<DemoAccount> accounts = hosted.site().isFirst() ? config.demoAccounts() : List.of();
    List<Pages> all = new ArrayList<>(hosted.pages());
    all.add(new SignInPages(hosted.people(), gate, accounts));
    all.add(new InvitationPages(hosted.people(), gate));
    all.add(new TabletPages(hosted.people(), gate));
    all.add(new PasskeySignInPages(hosted.people(), gate));
    config.school().ifPresent(school -> all.add(new SchoolPages(hosted.people(), gate, new SchoolDesk(school))));
    all.add(new HealthPages(operations));
    List<NavEntry> nav =
        all.stream().flatMap(p -> p.nav().stream()).sorted(Comparator.comparingInt(NavEntry::rank)).toList();
    Page.Frame frame = new Page.Frame(nav, config.isDemo(), new Whereabouts(hosted.site().name(), sites), List.copyOf(all));
    return Javalin.create(c -> {
      configure(c, gate, frame, all, operations, hosted.trail());
      more.accept(c);
    });
  }

  private static void configure(
      JavalinConfig config, Gate gate, Page.Frame frame, List<Pages> pages, Operations operations, Trail trail) {
    config.startup.showJavalinBanner = false;
    config.jetty.modifyServer(WebServer::letRequestsFinish);
    config.requestLogger.http((ctx, millis) -> tell(operations, trail, ctx, millis));
    config.http.maxRequestSize = 2_000_000;
    // photos come in parts; what is larger than any is cut off while it is read
    config.jetty.multipartConfig.maxFileSize(13, SizeUnit.MB);
    config.jetty.multipartConfig.maxTotalRequestSize(14, SizeUnit.MB);
    config.jetty.multipartConfig.maxInMemoryFileSize(1, SizeUnit.MB);
    config.fileRenderer(new Skin());
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/static";
          files.directory = "/static";
          files.location = Location.CLASSPATH;
          // the address holds a checksum of the content
          files.headers = Map.of("Cache-Control", "public, max-age=31536000, immutable");
          files.roles = Set.of(Access.ANYONE);
        });
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/modules";
          files.directory = "/modules";
          files.location = Location.CLASSPATH;
          // they name one another without a checksum
          files.headers = Map.of("Cache-Control", "no-cache");
          files.roles = Set.of(Access.ANYONE);
        });
    config.routes.before(ctx -> prepare(ctx, frame, gate, operations));
    config.routes.beforeMatched(gate::check);
    config.routes.beforeMatched(ctx -> {
      String route = route(ctx);
      if (!route.isEmpty()) { // files have none
        trail.begins(ctx, route);
      }
    });
    pages.forEach(p -> p.routes(config.routes));
    config.routes.exception(Refusal.class, (refusal, ctx) -> showRefusal(ctx, refusal));
    config.routes.exception(HttpResponseException.class, WebServer::showHttpError);
    config.routes.exception(Exception.class, (fault, ctx) -> showFault(operations, fault, ctx));
    config.routes.error(404, ctx -> showMissing(ctx));
  }

  private static void prepare(Context ctx, Page.Frame frame, Gate gate, Operations operations) {
    RequestId.give(ctx);
    operations.begins();
    headers(gate.isBehindTls()).forEach(ctx::header);
    ctx.attribute(Page.FRAME, frame);
    boolean isFile = ctx.path().startsWith("/static/") || ctx.path().startsWith("/modules/");
    if (!isFile) {
      ctx.header("Cache-Control", "no-store");
    }
    // health is asked for when the database cannot say who somebody is
    if (!isFile && !ctx.path().startsWith(HealthPages.ROOT)) {
      operations.closed().ifPresent(refusal -> {
        throw refusal;
      });
      gate.identify(ctx);
    }
  }

  /** What every answer tells the browser to hold to. */
  static Map<String, String> headers(boolean behindTls) {
    Map<String, String> all = new HashMap<>(HEADERS);
    if (behindTls) {
      all.put("Strict-Transport-Security", ONLY_TLS);
    }
    return all;
  }

  /** From when it is stopped it takes no new request and lets those that are being answered finish. */
  private static void letRequestsFinish(Server server) {
    server.insertHandler(new GracefulHandler());
    server.setStopTimeout(STOP_WITHIN.toMillis());
  }

  /** Method and pattern, such as {@code GET /record/{id}}; empty if it leads nowhere. */
  private static String route(Context ctx) {
    Endpoint matched = ctx.endpoints().matchedHttpEndpoint();
    return matched == null ? "" : matched.method.name() + " " + matched.path;
  }

  private static void tell(Operations operations, Trail trail, Context ctx, float millis) {
    String whole = route(ctx);
    String route = whole.substring(whole.indexOf(' ') + 1);
    try {
      if (!whole.isEmpty()) {
        trail.ended(ctx, whole);
      }
      operations.served(
          new Operations.Served(
              RequestId.of(ctx), ctx.method().name(), route, ctx.statusCode(), Duration.ofNanos((long) (millis * 1e6))));
    } finally {
      RequestId.forget();
    }
  }

  private static void showRefusal(Context ctx, Refusal refusal) {
    if (refusal.status() == 503) {
      ctx.header("Retry-After", "10");
    }
    showError(ctx, refusal.status(), refusal.title(), refusal.advice());
  }

  private static void showHttpError(HttpResponseException e, Context ctx) {
    int status = e.getStatus();
    if (status == 404) {
      ctx.status(404);
      return; // the page for 404 follows
    }
    showError(ctx, status, "That did not go through", "Go back and try again. If it happens again, tell the coordinator.");
  }

  private static void showFault(Operations operations, Exception e, Context ctx) {
    Optional<Refusal> known = operations.explain(e);
    if (known.isPresent()) {
      showRefusal(ctx, known.get());
      return;
    }
    LOG.error("{} {} failed", ctx.method(), ctx.path(), e);
    showError(
        ctx,
        500,
        "Something broke here",
        "What you sent was not kept. Go back and try again; the fault has been written to the server's log under "
            + RequestId.of(ctx) + ".");
  }

  private static void showMissing(Context ctx) {
    if (ctx.attribute("error-shown") == null) {
      showError(ctx, 404, "Nothing here", "The address leads nowhere. Use the menu to go on.");
    }
  }

  private static void showError(Context ctx, int status, String title, String advice) {
    ctx.attribute("error-shown", true);
    ctx.status(status);
    Page.show(ctx, "web/error", Map.of("status", status, "title", title, "advice", advice));
  }

  /** Makes a link for the account of a site's first coordinator; it works once, for this long. */
  public static String firstCoordinatorPath(Site site, PeopleStore people, Duration validFor) {
    return SiteDoor.path(site, "/first-coordinator/" + people.oneTimeLink(InvitationPages.FIRST_COORDINATOR, validFor));
  }

  /**
   * A route, as the router knows it.
   *
   * @param method such as "GET"
   * @param path with its parameters in braces
   * @param who may open it
   */
  public record Route(String method, String path, Set<RouteRole> who) {}

  /** Every route of the first site; the others have the same. */
  public List<Route> routes() {
    return javalin.unsafe.internalRouter.allHttpHandlers().stream()
        .map(parsed -> parsed.endpoint)
        .filter(endpoint -> endpoint.method.isHttpMethod())
        .map(endpoint -> new Route(endpoint.method.name(), endpoint.path, rolesOf(endpoint)))
        .toList();
  }

  private static Set<RouteRole> rolesOf(Endpoint endpoint) {
    Roles roles = endpoint.metadata(Roles.class);
    return roles == null ? Set.of() : roles.getRoles();
  }

  /** The port that it listens on. */
  public int port() {
    return javalin.port();
  }

  @Override
  public void close() {
    javalin.stop();
  }
}

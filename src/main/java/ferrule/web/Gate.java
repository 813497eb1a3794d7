package ferrule.web;

import ferrule.people.PeopleStore;
import ferrule.people.SignedIn;
import ferrule.site.Site;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HandlerType;
import io.javalin.http.SameSite;
import io.javalin.security.RouteRole;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.Optional;
import java.util.Set;

/**
 * The one place that lets a request in: it finds the session, checks the route's {@link Access}, and checks that a
 * request that changes something carries the session's secret (or, before sign-in, the browser's own).
 */
final class Gate {

  private static final String SESSION = "ferrule_session";
  private static final String VISITOR = "ferrule_visitor";
  private static final Set<HandlerType> READING = Set.of(HandlerType.GET, HandlerType.HEAD, HandlerType.OPTIONS);
  private static final int SESSION_SECONDS = (int) PeopleStore.SESSION.toSeconds();

  private final PeopleStore people;
  // one for each site, so that going over to another and back does not sign anybody out
  private final String session;
  private final boolean behindTls;

  Gate(PeopleStore people, Site site, boolean behindTls) {
    this.people = people;
    this.session = site.isFirst() ? SESSION : SESSION + "_" + site.name();
    this.behindTls = behindTls;
  }

  /** Finds out who it is. */
  void identify(Context ctx) {
    Optional.ofNullable(ctx.cookie(session))
        .filter(token -> !token.isEmpty())
        .flatMap(people::session)
        .ifPresent(visitor -> ctx.attribute(Visit.SIGNED_IN, visitor));
  }

  /** Lets the request through to its route, sends the visitor to sign in, or refuses. */
  void check(Context ctx) {
    Set<RouteRole> asked = ctx.routeRoles();
    Optional<SignedIn> visitor = Visit.signedIn(ctx);
    if (!READING.contains(ctx.method())) {
      checkSecret(ctx, visitor);
    }
    if (asked.contains(Access.ANYONE)) {
      return;
    }
    if (visitor.isEmpty()) {
      askToSignIn(ctx);
      return;
    }
    boolean admitted =
        asked.stream().anyMatch(role -> role instanceof Access a && a.admits(visitor.get().person().role()));
    if (!admitted) {
      throw Refusal.forbidden("This page is for another role. Use the menu to go on with your own work.");
    }
  }

  private static void askToSignIn(Context ctx) {
    if (ctx.method() != HandlerType.GET) {
      throw Refusal.forbidden("You are not signed in any more. Sign in again, then repeat what you did.");
    }
    String back = ctx.path() + (ctx.queryString() == null ? "" : "?" + ctx.queryString());
    Page.goTo(ctx, "/sign-in?then=" + URLEncoder.encode(back, StandardCharsets.UTF_8));
    ctx.skipRemainingHandlers();
  }

  private static void checkSecret(Context ctx, Optional<SignedIn> visitor) {
    String expected = visitor.map(SignedIn::csrfToken).orElseGet(() -> ctx.cookie(VISITOR));
    String given = ctx.header("X-CSRF-Token") != null ? ctx.header("X-CSRF-Token") : ctx.formParam("csrf");
    if (expected == null || expected.isEmpty() || given == null || !same(expected, given)) {
      throw Refusal.forbidden("This form is out of date. Go back, load the page again, and send it once more.");
    }
  }

  private static boolean same(String a, String b) {
    return MessageDigest.isEqual(a.getBytes(StandardCharsets.UTF_8), b.getBytes(StandardCharsets.UTF_8));
  }

  /** The secret for a form that is shown before sign-in; makes one for this browser if it has none. */
  String visitorSecret(Context ctx) {
    String known = ctx.cookie(VISITOR);
    if (known != null && !known.isEmpty()) {
      return known;
    }
    String fresh = ferrule.people.Secrets.token();
    ctx.cookie(cookie(VISITOR, fresh, -1));
    return fresh;
  }

  void open(Context ctx, String token) {
    ctx.cookie(cookie(session, token, SESSION_SECONDS));
  }

  void close(Context ctx) {
    Visit.signedIn(ctx).ifPresent(people::signOut);
    ctx.cookie(cookie(session, "", 0));
  }

  private Cookie cookie(String name, String value, int maxAge) {
    return new Cookie(name, value, "/", maxAge, behindTls, true, null, SameSite.LAX);
  }
}

package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PasskeyPlace;
import ferrule.people.PeopleStore;
import ferrule.people.SchoolStore;
import ferrule.people.Secrets;
import ferrule.people.SessionStore;
import ferrule.people.SignedIn;
import ferrule.people.TabletStore;
import ferrule.site.Site;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HandlerType;
import io.javalin.http.SameSite;
import io.javalin.security.RouteRole;
import java.net.URLDecoder;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * The one place that lets a request in: it finds the session, checks the route's {@link Access} and whose the thing in
 * its path is ({@link OnlyOwn}), and checks that a request that changes something carries the session's secret (or,
 * before sign-in, the browser's own).
 */
final class Gate {

  /** Where a request keeps its gate, for {@link Door}. */
  static final String HERE = "gate";

  /** Where a request keeps who came in by it, for {@link Trail}. */
  static final String CAME_IN = "came-in";

  private static final String SESSION = "ferrule_session";
  private static final String VISITOR = "ferrule_visitor";
  private static final String STEP = "ferrule_step";
  private static final String BROWSER = "ferrule_browser";
  private static final String TABLET = "ferrule_tablet";
  private static final String NOTE = "ferrule_note";
  private static final int NOTE_SECONDS = 60;
  private static final String WAY = "ferrule_way";
  private static final Set<HandlerType> READING = Set.of(HandlerType.GET, HandlerType.HEAD, HandlerType.OPTIONS);
  private static final int SESSION_SECONDS = (int) Opening.IDLE.toSeconds();
  private static final int STEP_SECONDS = (int) SessionStore.NEXT_STEP.toSeconds();
  private static final int YEAR_SECONDS = (int) Duration.ofDays(365).toSeconds();

  private final PeopleStore people;
  // one for each site, so that going over to another and back does not sign anybody out
  private final String suffix;
  private final boolean behindTls;
  private final Optional<String> schoolTitle;

  /**
   * A gate to this site.
   *
   * @param schoolTitle by what people know their account with the school, if they may come in by one
   */
  Gate(PeopleStore people, Site site, boolean behindTls, Optional<String> schoolTitle) {
    this.schoolTitle = schoolTitle;
    this.people = people;
    this.suffix = site.isFirst() ? "" : "_" + site.name();
    this.behindTls = behindTls;
  }

  /** Whether browsers reach this server by https. */
  boolean isBehindTls() {
    return behindTls;
  }

  /** Keeps what the next page shall say once. */
  void keepNote(Context ctx, String note) {
    write(ctx, NOTE, URLEncoder.encode(note, StandardCharsets.UTF_8), NOTE_SECONDS);
  }

  /** What this page shall say once, or an empty text. */
  String takeNote(Context ctx) {
    Optional<String> note = read(ctx, NOTE);
    note.ifPresent(n -> write(ctx, NOTE, "", 0));
    try {
      return note.map(n -> URLDecoder.decode(n, StandardCharsets.UTF_8)).orElse("");
    } catch (IllegalArgumentException e) {
      return ""; // not one that we wrote
    }
  }

  /** Finds out who it is. */
  void identify(Context ctx) {
    ctx.attribute(HERE, this);
    read(ctx, SESSION)
        .flatMap(people.sessions()::find)
        .ifPresent(visitor -> ctx.attribute(Visit.SIGNED_IN, visitor));
  }

  /** Lets the request through to its route, sends the visitor to sign in, or refuses. */
  void check(Context ctx) {
    Set<RouteRole> asked = ctx.routeRoles();
    Optional<SignedIn> visitor = Visit.signedIn(ctx);
    if (!READING.contains(ctx.method())) {
      checkSecret(ctx, visitor);
    }
    checkText(ctx);
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
    for (RouteRole role : asked) {
      if (role instanceof OnlyOwn own && !own.admits(visitor.get().person(), ctx.pathParam(own.parameter()))) {
        throw Refusal.notFound("There is nothing here that is yours to see. Use the menu to go on with your own work.");
      }
    }
  }

  // no text has them, and PostgreSQL keeps neither; files are their route's to read
  private static void checkText(Context ctx) {
    boolean isForm = ctx.isFormUrlencoded() || ctx.isMultipartFormData();
    boolean unkeepable = Stream.of(ctx.queryParamMap(), isForm ? ctx.formParamMap() : Map.<String, List<String>>of())
        .flatMap(fields -> fields.values().stream())
        .flatMap(List::stream)
        .anyMatch(Gate::isUnkeepable);
    if (unkeepable || ctx.pathParamMap().values().stream().anyMatch(Gate::isUnkeepable)) {
      throw Refusal.invalid("What was sent holds a character that is no text. Type it again instead of pasting it.");
    }
  }

  /** Whether a text holds a NUL or half of a pair of surrogates. */
  static boolean isUnkeepable(String text) {
    return text.codePoints().anyMatch(c -> c == 0 || c >= Character.MIN_SURROGATE && c <= Character.MAX_SURROGATE);
  }

  private void askToSignIn(Context ctx) {
    if (ctx.method() != HandlerType.GET) {
      throw Refusal.forbidden("You are not signed in any more. Sign in again, then repeat what you did.");
    }
    String back = ctx.path() + (ctx.queryString() == null ? "" : "?" + ctx.queryString());
    Page.goTo(ctx, (tablet(ctx).isPresent() ? "/tablet" : "/sign-in") + "?then=" + URLEncoder.encode(back, StandardCharsets.UTF_8));
    ctx.skipRemainingHandlers();
  }

  private void checkSecret(Context ctx, Optional<SignedIn> visitor) {
    String expected = visitor.map(SignedIn::csrfToken).orElseGet(() -> read(ctx, VISITOR).orElse(""));
    String given = ctx.header("X-CSRF-Token") != null ? ctx.header("X-CSRF-Token") : ctx.formParam("csrf");
    if (expected.isEmpty() || given == null || !same(expected, given)) {
      throw Refusal.forbidden("This form is out of date. Go back, load the page again, and send it once more.");
    }
  }

  private static boolean same(String a, String b) {
    return MessageDigest.isEqual(a.getBytes(StandardCharsets.UTF_8), b.getBytes(StandardCharsets.UTF_8));
  }

  /** Whether browsers come by way of a proxy that adds TLS. */
  boolean behindTls() {
    return behindTls;
  }

  /** What a form carries: the session's secret, or before there is a session the browser's own, made if it has none. */
  String secret(Context ctx) {
    return Visit.signedIn(ctx)
        .map(SignedIn::csrfToken)
        .or(() -> read(ctx, VISITOR))
        .orElseGet(
            () -> {
              String fresh = Secrets.token();
              write(ctx, VISITOR, fresh, -1);
              return fresh;
            });
  }

  /**
   * Opens a session for a person who has just proved who they are, in place of any other in this browser. On a shared
   * tablet it closes soon without use, and the person may come back there by PIN.
   */
  void open(Context ctx, UUID personId, Opening.How how) {
    close(ctx);
    ctx.attribute(CAME_IN, personId);
    Opening opening = opening(ctx, how);
    if (how != Opening.How.PIN) {
      opening.tablet().ifPresent(tablet -> people.tablets().welcome(tablet, personId));
      write(ctx, BROWSER, people.signIns().remember(personId, browser(ctx)), YEAR_SECONDS);
    }
    write(ctx, SESSION, people.sessions().open(personId, opening), SESSION_SECONDS);
  }

  private Opening opening(Context ctx, Opening.How how) {
    Opening opening = Opening.by(how, Device.words(ctx.userAgent()));
    return tablet(ctx).map(tablet -> opening.onTablet(tablet.id())).orElse(opening);
  }

  /** Closes the session in this browser, if there is one, and any sign-in that is half done. */
  void close(Context ctx) {
    Visit.signedIn(ctx).ifPresent(people.sessions()::close);
    awaitingCode(ctx).ifPresent(people.sessions()::close);
    write(ctx, SESSION, "", 0);
    write(ctx, STEP, "", 0);
  }

  /** Notes that the password was right while a code is still asked for. */
  void awaitCode(Context ctx, UUID personId) {
    close(ctx);
    ctx.attribute(CAME_IN, personId);
    write(ctx, STEP, people.sessions().awaitCode(personId, opening(ctx, Opening.How.PASSWORD)), STEP_SECONDS);
  }

  /** Whose password was right in this browser, while a code is still asked for. */
  Optional<SignedIn> awaitingCode(Context ctx) {
    return read(ctx, STEP).flatMap(people.sessions()::awaitingCode);
  }

  /** Where this browser's passkeys are for. */
  PasskeyPlace place(Context ctx) {
    return PasskeyPlace.of(behindTls ? "https" : ctx.scheme(), Optional.ofNullable(ctx.host()).orElse(""));
  }

  /** By what people know their account with the school, if they may come in by one. */
  Optional<String> schoolTitle() {
    return schoolTitle;
  }

  /** Keeps the state of a way to the school's provider in this browser. */
  void keepState(Context ctx, String state) {
    write(ctx, WAY, state, (int) SchoolStore.WAY.toSeconds());
  }

  /** The state of the way on which this browser was sent, which is over now. */
  Optional<String> takeState(Context ctx) {
    Optional<String> state = read(ctx, WAY);
    write(ctx, WAY, "", 0);
    return state;
  }

  /** The token of this browser, if anyone has signed in in it before. */
  Optional<String> browser(Context ctx) {
    return read(ctx, BROWSER);
  }

  /** The shared tablet that this is, if it is one. */
  Optional<TabletStore.Tablet> tablet(Context ctx) {
    return read(ctx, TABLET).flatMap(people.tablets()::find);
  }

  /** Makes this browser a shared tablet by its token, or one no more if that is empty. */
  void makeTablet(Context ctx, String token) {
    write(ctx, TABLET, token, token.isEmpty() ? 0 : YEAR_SECONDS);
  }

  // with the prefix a browser takes the cookie by https only, from this host only, for all of it (RFC 6265bis, 4.1.3.2)
  private String cookieName(String name) {
    return (behindTls ? "__Host-" + name : name) + suffix;
  }

  private Optional<String> read(Context ctx, String name) {
    return Optional.ofNullable(ctx.cookie(cookieName(name))).filter(value -> !value.isEmpty());
  }

  private void write(Context ctx, String name, String value, int maxAge) {
    ctx.cookie(new Cookie(cookieName(name), value, "/", maxAge, behindTls, true, null, SameSite.LAX));
  }
}

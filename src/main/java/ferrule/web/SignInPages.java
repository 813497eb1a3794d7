package ferrule.web;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SignedIn;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Signing in and out, the first coordinator's one-time link, and a person's own PIN. */
final class SignInPages implements Pages {

  /** The purpose of the link that makes the first coordinator's account. */
  static final String FIRST_COORDINATOR = "first-coordinator";

  private static final int SHORTEST_PASSWORD = 12;
  private static final String LONGER_PASSWORD =
      "A password needs at least " + SHORTEST_PASSWORD + " characters. A short sentence works well.";

  private final PeopleStore people;
  private final Gate gate;
  private final List<DemoAccount> demoAccounts;

  SignInPages(PeopleStore people, Gate gate, List<DemoAccount> demoAccounts) {
    this.people = people;
    this.gate = gate;
    this.demoAccounts = demoAccounts;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/", SignInPages::home, Access.SIGNED_IN);
    routes.get("/sign-in", ctx -> showSignIn(ctx, "", ""), Access.ANYONE);
    routes.post("/sign-in", this::signIn, Access.ANYONE);
    routes.post("/sign-out", this::signOut, Access.SIGNED_IN);
    routes.get("/first-coordinator/{token}", ctx -> showFirst(ctx, ""), Access.ANYONE);
    routes.post("/first-coordinator/{token}", this::first, Access.ANYONE);
    routes.get("/invitation/{token}", ctx -> showInvitation(ctx, ""), Access.ANYONE);
    routes.post("/invitation/{token}", this::accept, Access.ANYONE);
    routes.get("/my-pin", ctx -> showPin(ctx, ""), Access.INSTRUCTOR);
    routes.post("/my-pin", this::setPin, Access.INSTRUCTOR);
  }

  private static void home(Context ctx) {
    Page.Frame frame = ctx.attribute(Page.FRAME);
    List<NavEntry> mine = Page.navFor(frame, Visit.signedIn(ctx).orElseThrow());
    if (mine.isEmpty()) {
      throw Refusal.notFound("There is no page for your role yet. Ask the coordinator.");
    }
    Page.goTo(ctx, mine.get(0).path());
  }

  /** What a form of these pages carries: the session's secret, or the browser's own before there is a session. */
  private String secret(Context ctx) {
    return Visit.signedIn(ctx).map(SignedIn::csrfToken).orElseGet(() -> gate.visitorSecret(ctx));
  }

  private void showSignIn(Context ctx, String problem, String name) {
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("name", name);
    model.put("then", localPath(ctx.method().name().equals("GET") ? ctx.queryParam("then") : ctx.formParam("then")));
    model.put("secret", secret(ctx));
    model.put("accounts", demoAccounts);
    Page.Frame frame = ctx.attribute(Page.FRAME);
    model.put("site", frame.where().here());
    model.put("otherSites", frame.where().others());
    Page.show(ctx, "web/sign-in", model);
  }

  private void signIn(Context ctx) {
    String name = Visit.formText(ctx, "name").orElse("");
    String password = Optional.ofNullable(ctx.formParam("password")).orElse("");
    Optional<String> token = people.signIn(name, password);
    if (token.isEmpty()) {
      ctx.status(401);
      showSignIn(ctx, "The name or the password is not right. Check both and try again.", name);
      return;
    }
    gate.close(ctx);
    gate.open(ctx, token.get());
    Page.goTo(ctx, localPath(ctx.formParam("then")));
  }

  // only a path of ours: an address of another host would let a link send people away after they sign in
  private static String localPath(String then) {
    boolean ours = then != null && then.startsWith("/") && !then.startsWith("//") && !then.contains("\\");
    return ours ? then : "/";
  }

  private void signOut(Context ctx) {
    gate.close(ctx);
    Page.goTo(ctx, "/sign-in");
  }

  private void showFirst(Context ctx, String problem) {
    if (!people.isOpen(FIRST_COORDINATOR, ctx.pathParam("token"))) {
      throw Refusal.notFound("This link has been used or has expired. Start Ferrule again to get a new one.");
    }
    Page.show(
        ctx,
        "web/first-coordinator",
        Map.of(
            "problem", problem,
            "secret", secret(ctx),
            "shortest", SHORTEST_PASSWORD,
            "name", Visit.formText(ctx, "name").orElse(""),
            "fullName", Visit.formText(ctx, "full-name").orElse("")));
  }

  private void first(Context ctx) {
    Optional<String> name = Visit.formText(ctx, "name");
    Optional<String> fullName = Visit.formText(ctx, "full-name");
    String password = Optional.ofNullable(ctx.formParam("password")).orElse("");
    if (name.isEmpty() || fullName.isEmpty() || name.get().length() > 80 || fullName.get().length() > 120) {
      ctx.status(400);
      showFirst(ctx, "Give a name to sign in with (up to 80 characters) and your full name (up to 120).");
      return;
    }
    if (!isLongEnough(password)) {
      ctx.status(400);
      showFirst(ctx, LONGER_PASSWORD);
      return;
    }
    Person coordinator =
        new Person(UUID.randomUUID(), name.get(), fullName.get(), Role.COORDINATOR, Optional.empty());
    if (!people.addByLink(FIRST_COORDINATOR, ctx.pathParam("token"), coordinator, password)) {
      throw Refusal.notFound("This link has been used or has expired. Start Ferrule again to get a new one.");
    }
    gate.open(ctx, people.openSession(coordinator.id()));
    Page.goTo(ctx, "/", "Your account is made.");
  }

  private static boolean isLongEnough(String password) {
    return password.length() >= SHORTEST_PASSWORD && password.length() <= 200;
  }

  private void showInvitation(Context ctx, String problem) {
    Person invited = people.invited(ctx.pathParam("token")).orElseThrow(SignInPages::usedInvitation);
    Page.show(
        ctx,
        "web/invitation",
        Map.of(
            "problem", problem,
            "secret", secret(ctx),
            "shortest", SHORTEST_PASSWORD,
            "invited", invited));
  }

  private void accept(Context ctx) {
    String password = Optional.ofNullable(ctx.formParam("password")).orElse("");
    if (!isLongEnough(password)) {
      ctx.status(400);
      showInvitation(ctx, LONGER_PASSWORD);
      return;
    }
    Person person = people.accept(ctx.pathParam("token"), password).orElseThrow(SignInPages::usedInvitation);
    gate.close(ctx);
    gate.open(ctx, people.openSession(person.id()));
    Page.goTo(ctx, "/", "Welcome. Next time, sign in with the name “" + person.signInName() + "” and your password.");
  }

  private static Refusal usedInvitation() {
    return Refusal.notFound("This invitation has been used or has expired. Ask the coordinator for a new one.");
  }

  private void showPin(Context ctx, String problem) {
    Page.show(
        ctx, "web/my-pin", Map.of("problem", problem, "hasPin", people.hasPin(Visit.person(ctx).id())));
  }

  private void setPin(Context ctx) {
    String pin = Optional.ofNullable(ctx.formParam("pin")).orElse("");
    Person person = Visit.person(ctx);
    if (!pin.matches("\\d{4,12}")) {
      ctx.status(400);
      showPin(ctx, "A PIN is 4 to 12 digits.");
      return;
    }
    // whoever picks up an open tablet must not be able to choose the PIN that signs
    if (!people.isPassword(person.id(), Optional.ofNullable(ctx.formParam("password")).orElse(""))) {
      ctx.status(401);
      showPin(ctx, "The password is not right, so the PIN was not changed.");
      return;
    }
    people.setPin(person.id(), pin);
    Page.goTo(ctx, "/my-pin", "Your PIN is set. You will be asked for it each time you sign.");
  }
}

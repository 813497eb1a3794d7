package ferrule.account;

import ferrule.people.OpenSession;
import ferrule.people.Opening;
import ferrule.people.PasswordRule;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SignedIn;
import ferrule.web.Access;
import ferrule.web.Door;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** One's own account: an overview with the open sessions, the password, and the PIN. */
public final class AccountPages implements Pages {

  private final PeopleStore people;
  private final DateTimeFormatter moment;

  /** The pages over this store, with times as the clock at the school shows them. */
  public AccountPages(PeopleStore people, ZoneId zone) {
    this.people = people;
    this.moment = DateTimeFormatter.ofPattern("d MMM, HH:mm", Locale.ENGLISH).withZone(zone);
  }

  /** A session as a line of the page. */
  record Line(String hash, String device, String how, String opened, String lastSeen, boolean here) {}

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/account", this::show, Access.SIGNED_IN);
    routes.post("/account/sessions/close", this::closeOne, Access.SIGNED_IN);
    routes.post("/account/sessions/close-others", this::closeOthers, Access.SIGNED_IN);
    routes.post("/account/sessions/close-all", this::closeAll, Access.SIGNED_IN);
    routes.get("/account/password", ctx -> showPassword(ctx, ""), Access.SIGNED_IN);
    routes.post("/account/password", this::setPassword, Access.SIGNED_IN);
    routes.post("/account/school/disconnect", this::disconnect, Access.SIGNED_IN);
    routes.get("/my-pin", ctx -> showPin(ctx, ""), Access.SIGNED_IN);
    routes.post("/my-pin", this::setPin, Access.SIGNED_IN);
  }

  private void show(Context ctx) {
    SignedIn session = Visit.signedIn(ctx).orElseThrow();
    Person person = session.person();
    Map<String, Object> model = new HashMap<>();
    model.put("sessions", people.sessions().of(person.id()).stream().map(s -> line(s, session)).toList());
    model.put("passkeys", people.passkeys().of(person.id()).size());
    model.put("hasPin", people.hasPin(person.id()));
    model.put("codesOn", people.secondSteps().isOn(person.id()));
    model.put("recoveryCodesLeft", people.secondSteps().recoveryCodesLeft(person.id()));
    model.put("school", Door.schoolTitle(ctx).orElse(""));
    model.put("schoolConnected", people.schools().isConnected(person.id()));
    model.put("staff", person.role() != Role.APPRENTICE);
    model.put("isTablet", Door.isTablet(ctx));
    Page.show(ctx, "account/account", model);
  }

  private Line line(OpenSession open, SignedIn session) {
    return new Line(
        open.hash(), open.opening().device(), open.opening().how().words(), said(open.openedAt()),
        said(open.lastSeenAt()), open.hash().equals(session.sessionHash()));
  }

  private String said(Instant instant) {
    return moment.format(instant);
  }

  private void closeOne(Context ctx) {
    people.sessions().close(Visit.person(ctx).id(), Visit.formText(ctx, "session").orElse(""));
    Page.goTo(ctx, "/account", "Signed out there.");
  }

  private void closeOthers(Context ctx) {
    int closed = people.sessions().closeOthers(Visit.signedIn(ctx).orElseThrow());
    Page.goTo(ctx, "/account", closed == 0 ? "You were signed in nowhere else." : "Signed out everywhere but here.");
  }

  private void closeAll(Context ctx) {
    people.sessions().closeAll(Visit.person(ctx).id());
    Door.close(ctx);
    Page.goTo(ctx, "/sign-in", "You are signed out everywhere.");
  }

  private static void showPassword(Context ctx, String problem) {
    Page.show(ctx, "account/password", Map.of("problem", problem, "shortest", PasswordRule.SHORTEST));
  }

  private void setPassword(Context ctx) {
    Person person = Visit.person(ctx);
    String fresh = Optional.ofNullable(ctx.formParam("new-password")).orElse("");
    Optional<String> refusal = PasswordRule.refusal(fresh, List.of(person.signInName(), person.fullName()));
    if (refusal.isPresent()) {
      ctx.status(400);
      showPassword(ctx, refusal.get());
      return;
    }
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    if (wrong.isPresent()) {
      ctx.status(401);
      showPassword(ctx, wrong.get() + " Nothing was changed.");
      return;
    }
    people.setPassword(person.id(), fresh);
    Opening.How how = Visit.signedIn(ctx).orElseThrow().opening().how();
    people.sessions().closeAll(person.id());
    Door.reopen(ctx, person.id(), how == Opening.How.PIN ? Opening.How.PASSWORD : how);
    Page.goTo(ctx, "/account", "Your password is changed. You are signed out everywhere but here.");
  }

  private void disconnect(Context ctx) {
    people.schools().disconnect(Visit.person(ctx).id());
    Page.goTo(ctx, "/account", "Disconnected from your account with the school.");
  }

  private void showPin(Context ctx, String problem) {
    Person person = Visit.person(ctx);
    Page.show(
        ctx,
        "account/pin",
        Map.of(
            "problem", problem, "hasPin", people.hasPin(person.id()), "signs", person.role() == Role.INSTRUCTOR));
  }

  private void setPin(Context ctx) {
    Person person = Visit.person(ctx);
    String pin = Optional.ofNullable(ctx.formParam("pin")).orElse("");
    if (!pin.matches("\\d{4,12}")) {
      ctx.status(400);
      showPin(ctx, "A PIN is 4 to 12 digits.");
      return;
    }
    if (isEasy(pin)) {
      ctx.status(400);
      showPin(ctx, "That PIN is among the first that anyone tries. Choose one that is no run, no pair, no single digit.");
      return;
    }
    // whoever picks up an open tablet must not be able to choose the PIN that signs
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    if (wrong.isPresent()) {
      ctx.status(401);
      showPin(ctx, wrong.get() + " The PIN was not changed.");
      return;
    }
    people.setPin(person.id(), pin);
    Page.goTo(ctx, "/account", "Your PIN is set.");
  }

  /** Whether a PIN is a run such as 1234, or one digit or pair over and over. */
  static boolean isEasy(String pin) {
    boolean run = "01234567890123456789".contains(pin) || "98765432109876543210".contains(pin);
    return run || pin.equals(pin.substring(0, 1).repeat(pin.length())) || pin.substring(2).equals(pin.substring(0, pin.length() - 2));
  }
}

package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PasswordRule;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** The links that work once: the one that makes the first coordinator's account, and invitations. */
final class InvitationPages implements Pages {

  /** The purpose of the link that makes the first coordinator's account. */
  static final String FIRST_COORDINATOR = "first-coordinator";

  private final PeopleStore people;
  private final Gate gate;

  InvitationPages(PeopleStore people, Gate gate) {
    this.people = people;
    this.gate = gate;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/first-coordinator/{token}", ctx -> showFirst(ctx, ""), Access.ANYONE);
    routes.post("/first-coordinator/{token}", this::first, Access.ANYONE);
    routes.get("/invitation/{token}", ctx -> showInvitation(ctx, ""), Access.ANYONE);
    routes.post("/invitation/{token}", this::accept, Access.ANYONE);
  }

  private static String password(Context ctx) {
    return Optional.ofNullable(ctx.formParam("password")).orElse("");
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
            "secret", gate.secret(ctx),
            "shortest", PasswordRule.SHORTEST,
            "name", Visit.formText(ctx, "name").orElse(""),
            "fullName", Visit.formText(ctx, "full-name").orElse("")));
  }

  private void first(Context ctx) {
    Optional<String> name = Visit.formText(ctx, "name");
    Optional<String> fullName = Visit.formText(ctx, "full-name");
    if (name.isEmpty() || fullName.isEmpty() || name.get().length() > 80 || fullName.get().length() > 120) {
      ctx.status(400);
      showFirst(ctx, "Give a name to sign in with (up to 80 characters) and your full name (up to 120).");
      return;
    }
    Optional<String> refusal = PasswordRule.refusal(password(ctx), List.of(name.get(), fullName.get()));
    if (refusal.isPresent()) {
      ctx.status(400);
      showFirst(ctx, refusal.get());
      return;
    }
    Person coordinator =
        new Person(UUID.randomUUID(), name.get(), fullName.get(), Role.COORDINATOR, Optional.empty());
    if (!people.addByLink(FIRST_COORDINATOR, ctx.pathParam("token"), coordinator, password(ctx))) {
      throw Refusal.notFound("This link has been used or has expired. Start Ferrule again to get a new one.");
    }
    gate.open(ctx, coordinator.id(), Opening.How.INVITATION);
    Page.goTo(ctx, "/", "Your account is made.");
  }

  private void showInvitation(Context ctx, String problem) {
    Person invited = people.invited(ctx.pathParam("token")).orElseThrow(InvitationPages::usedInvitation);
    Page.show(
        ctx,
        "web/invitation",
        Map.of(
            "problem", problem,
            "secret", gate.secret(ctx),
            "shortest", PasswordRule.SHORTEST,
            "invited", invited));
  }

  private void accept(Context ctx) {
    Person invited = people.invited(ctx.pathParam("token")).orElseThrow(InvitationPages::usedInvitation);
    Optional<String> refusal =
        PasswordRule.refusal(password(ctx), List.of(invited.signInName(), invited.fullName()));
    if (refusal.isPresent()) {
      ctx.status(400);
      showInvitation(ctx, refusal.get());
      return;
    }
    Person person =
        people.accept(ctx.pathParam("token"), password(ctx)).orElseThrow(InvitationPages::usedInvitation);
    if (people.secondSteps().isOn(person.id())) {
      // whoever holds the link has not shown that they hold the phone
      gate.awaitCode(ctx, person.id());
      Page.goTo(ctx, "/sign-in/code", "Your password is set. Now a code, as always.");
      return;
    }
    gate.open(ctx, person.id(), Opening.How.INVITATION);
    Page.goTo(ctx, "/", "Welcome. Next time, sign in with the name “" + person.signInName() + "” and your password.");
  }

  private static Refusal usedInvitation() {
    return Refusal.notFound("This invitation has been used or has expired. Ask the coordinator for a new one.");
  }
}

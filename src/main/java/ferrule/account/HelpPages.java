package ferrule.account;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Where a coordinator helps somebody who cannot sign in: a link for a new password, second proofs switched off when the
 * phone and the paper are both lost, and signing them out everywhere when a device is.
 */
public final class HelpPages implements Pages {

  private final PeopleStore people;
  private final DateTimeFormatter moment;

  /** The pages over this store, with times as the clock at the school shows them. */
  public HelpPages(PeopleStore people, ZoneId zone) {
    this.people = people;
    this.moment = DateTimeFormatter.ofPattern("d MMM, HH:mm", Locale.ENGLISH).withZone(zone);
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/people/{id}/account", ctx -> show(ctx, ""), Access.COORDINATOR);
    routes.post("/people/{id}/account/proofs-off", this::proofsOff, Access.COORDINATOR);
    routes.post("/people/{id}/account/sign-out", this::signOut, Access.COORDINATOR);
  }

  private Person person(Context ctx) {
    return people.person(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such person."));
  }

  private void show(Context ctx, String problem) {
    Person who = person(ctx);
    Instant asked = people.signIns().passwordsWanted().get(who.id());
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("who", who);
    model.put("asked", asked == null ? "" : moment.format(asked));
    boolean erased = people.erased().contains(who.id());
    model.put("erased", erased);
    model.put("erasable", who.role() == Role.APPRENTICE && !erased);
    model.put("codesOn", people.secondSteps().isOn(who.id()));
    model.put("recoveryCodesLeft", people.secondSteps().recoveryCodesLeft(who.id()));
    model.put("passkeys", people.passkeys().of(who.id()).size());
    model.put("sessions", people.sessions().of(who.id()).size());
    Page.show(ctx, "account/help", model);
  }

  private void proofsOff(Context ctx) {
    Person who = person(ctx);
    Optional<String> wrong = new Proof(people).refusal(ctx.formParam("password"), Visit.signedIn(ctx).orElseThrow());
    if (wrong.isPresent()) {
      ctx.status(401);
      show(ctx, wrong.get() + " Nothing was changed.");
      return;
    }
    people.secondSteps().off(who.id());
    people.passkeys().removeAll(who.id());
    people.sessions().closeAll(who.id());
    Page.goTo(ctx, "/people/" + who.id() + "/account", who.fullName()
        + " has no one-time codes and no passkeys any more, and is signed out everywhere. The password alone lets them in.");
  }

  private void signOut(Context ctx) {
    Person who = person(ctx);
    people.sessions().closeAll(who.id());
    Page.goTo(ctx, "/people/" + who.id() + "/account", who.fullName() + " is signed out everywhere.");
  }
}

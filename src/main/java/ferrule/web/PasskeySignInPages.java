package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;

/** Coming in with a passkey, without a name or a password. */
final class PasskeySignInPages implements Pages {

  private final PeopleStore people;
  private final Gate gate;

  PasskeySignInPages(PeopleStore people, Gate gate) {
    this.people = people;
    this.gate = gate;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.post("/sign-in/passkey/begin", this::begin, Access.ANYONE);
    routes.post("/sign-in/passkey", this::enter, Access.ANYONE);
  }

  private void begin(Context ctx) {
    ctx.json(Map.of("challenge", people.passkeys().challengeToEnter(), "rpId", gate.place(ctx).host()));
  }

  private void enter(Context ctx) {
    Optional<Person> person =
        people.passkeys().enter(Optional.ofNullable(ctx.formParam("passkey")).orElse(""), gate.place(ctx));
    if (person.isEmpty()) {
      Page.goTo(ctx, "/sign-in", "That passkey is not known here, or it took too long. Try again, or use your password.");
      return;
    }
    gate.open(ctx, person.get().id(), Opening.How.PASSKEY);
    Page.goTo(ctx, Visit.localPath(ctx.formParam("then")));
  }
}

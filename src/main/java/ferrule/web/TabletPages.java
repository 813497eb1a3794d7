package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.SignedIn;
import ferrule.people.TabletStore;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** A shared tablet's door: who is it, and their PIN; and locking it. */
final class TabletPages implements Pages {

  private static final int LONGEST_PATH = 400;

  private final PeopleStore people;
  private final Gate gate;

  TabletPages(PeopleStore people, Gate gate) {
    this.people = people;
    this.gate = gate;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/tablet", this::showWho, Access.ANYONE);
    routes.get("/tablet/{id}", ctx -> showPin(ctx, ""), Access.ANYONE);
    routes.post("/tablet/{id}", this::enter, Access.ANYONE);
    routes.post("/tablet-lock", this::lock, Access.SIGNED_IN);
    routes.post("/tablet-in-use", ctx -> ctx.status(204), Access.SIGNED_IN);
  }

  private TabletStore.Tablet here(Context ctx) {
    return gate.tablet(ctx).orElseThrow(
        () -> Refusal.notFound("This device is not a shared tablet. Sign in with your name and password."));
  }

  private void showWho(Context ctx) {
    TabletStore.Tablet tablet = here(ctx);
    String then = Visit.localPath(ctx.queryParam("then"));
    Page.show(
        ctx,
        "web/tablet",
        Map.of("tablet", tablet, "people", people.tablets().people(tablet.id()), "then", then, "secret", gate.secret(ctx)));
  }

  private void showPin(Context ctx, String problem) {
    Map<String, Object> model = new HashMap<>();
    model.put("tablet", here(ctx));
    model.put("who", known(ctx));
    model.put("problem", problem);
    model.put("secret", gate.secret(ctx));
    model.put("then", Visit.localPath(ctx.method().name().equals("GET") ? ctx.queryParam("then") : ctx.formParam("then")));
    Page.show(ctx, "web/tablet-pin", model);
  }

  private Person known(Context ctx) {
    UUID id = Visit.id(ctx, "id");
    List<Person> there = people.tablets().people(here(ctx).id());
    return there.stream().filter(p -> p.id().equals(id)).findFirst()
        .orElseThrow(() -> Refusal.notFound("Nobody comes in here by PIN under this address. Go back and choose a name."));
  }

  private void enter(Context ctx) {
    TabletStore.Tablet tablet = here(ctx);
    Person person = known(ctx);
    TabletStore.Entry entry = people.tablets().enter(tablet.id(), person.id(), Visit.formText(ctx, "pin").orElse(""));
    if (entry instanceof TabletStore.Entry.Right) {
      gate.open(ctx, person.id(), Opening.How.PIN);
      Optional<String> left = people.tablets().leftAt(tablet.id(), person.id());
      String asked = Visit.localPath(ctx.formParam("then"));
      Page.goTo(ctx, asked.equals("/") ? left.orElse("/") : asked);
      return;
    }
    ctx.status(401);
    showPin(ctx, problem(entry));
  }

  private static String problem(TabletStore.Entry entry) {
    if (entry instanceof TabletStore.Entry.Wrong wrong) {
      return "That is not your PIN. " + (wrong.triesLeft() == 1 ? "One more try is" : wrong.triesLeft() + " more tries are")
          + " left before a pause.";
    }
    if (entry instanceof TabletStore.Entry.Wait wait) {
      return "Too many wrong PINs. None is taken for you on this tablet until " + Moments.utc(wait.until())
          + "; you can sign in with your password at once.";
    }
    return "Too many wrong PINs were tried for you on this tablet. Sign in with your password once; then your PIN is "
        + "taken again.";
  }

  private void lock(Context ctx) {
    SignedIn session = Visit.signedIn(ctx).orElseThrow();
    Optional<UUID> tablet = session.opening().tablet();
    String path = Visit.localPath(ctx.formParam("path"));
    gate.close(ctx);
    tablet.filter(id -> path.length() <= LONGEST_PATH)
        .ifPresent(id -> people.tablets().leaveAt(id, session.person().id(), path));
    Page.goTo(ctx, tablet.isPresent() ? "/tablet" : "/sign-in");
  }
}

package ferrule.web;

import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.SchoolDesk;
import ferrule.people.SchoolStore;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.net.URI;
import java.util.Optional;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Coming in by an account with the school, and connecting one with the account here. */
final class SchoolPages implements Pages {

  private static final Logger LOG = LoggerFactory.getLogger(SchoolPages.class);
  private static final int LONGEST_PATH = 2_000;

  private final PeopleStore people;
  private final Gate gate;
  private final SchoolDesk desk;

  SchoolPages(PeopleStore people, Gate gate, SchoolDesk desk) {
    this.people = people;
    this.gate = gate;
    this.desk = desk;
  }

  @Override
  public void routes(RoutesConfig routes) {
    // a link and no form: the page's policy lets no form lead to another host
    routes.get("/sign-in/school", this::enter, Access.ANYONE);
    routes.get("/sign-in/school/connect", this::connect, Access.SIGNED_IN);
    routes.get("/sign-in/school/back", this::comeBack, Access.ANYONE);
  }

  private void enter(Context ctx) {
    String then = Visit.localPath(ctx.queryParam("then"));
    send(ctx, Optional.empty(), then.length() > LONGEST_PATH ? "/" : then);
  }

  private void connect(Context ctx) {
    send(ctx, Optional.of(Visit.person(ctx).id()), "/account");
  }

  private void send(Context ctx, Optional<UUID> connects, String then) {
    SchoolDesk.Request request = SchoolDesk.Request.random();
    try {
      URI address = desk.address(request, back(ctx));
      people.schools().begin(new SchoolStore.Way(request, connects, then));
      gate.keepState(ctx, request.state());
      Page.goTo(ctx, address.toString());
    } catch (SchoolDesk.Failure e) {
      LOG.warn("no way to the school's accounts", e);
      Page.goTo(ctx, connects.isPresent() ? "/account" : "/sign-in",
          "The school's accounts do not answer just now. Try again later, or use your password.");
    }
  }

  private URI back(Context ctx) {
    return URI.create(gate.place(ctx).origin() + "/sign-in/school/back");
  }

  private void comeBack(Context ctx) {
    // the state is in this browser's cookie too: nobody can be sent here with an answer that another browser got
    Optional<SchoolStore.Way> way = gate.takeState(ctx)
        .filter(state -> state.equals(ctx.queryParam("state")))
        .flatMap(people.schools()::comeBack);
    if (way.isEmpty()) {
      Page.goTo(ctx, "/sign-in", "That took too long, or it began in another browser. Try again.");
      return;
    }
    try {
      URI answered = URI.create(back(ctx) + "?" + ctx.queryString());
      Optional<SchoolDesk.Identity> identity = desk.identity(answered, back(ctx), way.get().request());
      if (identity.isEmpty()) {
        Page.goTo(ctx, way.get().connects().isPresent() ? "/account" : "/sign-in", "You turned back; nothing was changed.");
      } else if (way.get().connects().isPresent()) {
        connected(ctx, way.get().connects().get(), identity.get());
      } else {
        entered(ctx, identity.get(), way.get().then());
      }
    } catch (SchoolDesk.Failure | IllegalArgumentException e) {
      LOG.warn("an answer of the school's accounts was not taken", e);
      Page.goTo(ctx, "/sign-in", "The answer of the school's accounts could not be taken. Try again, or use your password.");
    }
  }

  private void connected(Context ctx, UUID personId, SchoolDesk.Identity identity) {
    boolean same = Visit.signedIn(ctx).filter(s -> s.person().id().equals(personId)).isPresent();
    if (!same) {
      Page.goTo(ctx, "/sign-in", "You were signed out meanwhile, so nothing was connected. Sign in and try again.");
    } else if (people.schools().connect(personId, identity)) {
      Page.goTo(ctx, "/account", "Connected. From now on you can sign in with your " + desk.provider().title() + ".");
    } else {
      Page.goTo(ctx, "/account", "That account with the school is connected to somebody already.");
    }
  }

  private void entered(Context ctx, SchoolDesk.Identity identity, String then) {
    Optional<Person> person = people.schools().person(identity);
    if (person.isEmpty()) {
      Page.goTo(ctx, "/sign-in", "Nobody here is connected to that " + desk.provider().title()
          + ". Sign in with your password once and connect it under “Account”.");
      return;
    }
    if (people.secondSteps().isOn(person.get().id())) {
      gate.awaitCode(ctx, person.get().id());
      Page.goTo(ctx, "/sign-in/code");
      return;
    }
    gate.open(ctx, person.get().id(), Opening.How.SCHOOL);
    Page.goTo(ctx, then);
  }
}

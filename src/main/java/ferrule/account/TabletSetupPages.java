package ferrule.account;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.TabletStore;
import ferrule.web.Access;
import ferrule.web.Door;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Where staff make a device a shared tablet, see them all, and take one out of use from wherever they are. */
public final class TabletSetupPages implements Pages {

  private static final int LONGEST_TITLE = 80;

  private final PeopleStore people;

  /** The pages over this store. */
  public TabletSetupPages(PeopleStore people) {
    this.people = people;
  }

  /** A tablet as a line of the page. */
  record Line(UUID id, String title, List<String> people) {}

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/account/tablets", ctx -> show(ctx, ""), Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/account/tablets", this::make, Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/account/tablets/{id}/close", this::close, Access.INSTRUCTOR, Access.COORDINATOR);
  }

  private void show(Context ctx, String problem) {
    List<Line> lines =
        people.tablets().all().stream()
            .map(t -> new Line(t.id(), t.title(), people.tablets().people(t.id()).stream().map(Person::fullName).toList()))
            .toList();
    Page.show(
        ctx, "account/tablets", Map.of("problem", problem, "tablets", lines, "isTablet", Door.isTablet(ctx)));
  }

  private void make(Context ctx) {
    Optional<String> title = Visit.formText(ctx, "title").filter(t -> t.length() <= LONGEST_TITLE);
    if (title.isEmpty()) {
      ctx.status(400);
      show(ctx, "Give the tablet a name of up to " + LONGEST_TITLE + " characters, such as “Bench 2”.");
      return;
    }
    Person person = Visit.person(ctx);
    Door.makeTablet(ctx, people.tablets().make(title.get(), person.id()));
    Door.close(ctx);
    Page.goTo(ctx, "/sign-in", "This device is now the shared tablet “" + title.get()
        + "”. Everyone signs in here once in full, and from then on by PIN.");
  }

  private void close(Context ctx) {
    UUID id = Visit.id(ctx, "id");
    String title = people.tablets().all().stream().filter(t -> t.id().equals(id)).map(TabletStore.Tablet::title)
        .findFirst().orElseThrow(() -> Refusal.notFound("There is no such tablet, or it is one no more."));
    people.tablets().close(id);
    Page.goTo(ctx, "/account/tablets", "“" + title + "” is a shared tablet no more, and nobody is signed in on it.");
  }
}

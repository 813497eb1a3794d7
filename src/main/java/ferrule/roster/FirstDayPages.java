package ferrule.roster;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BooleanSupplier;

/** The coordinator's list of first steps, which is their home until the first drill is set; and the programme's name. */
public final class FirstDayPages implements Pages {

  private final PeopleStore people;
  private final SiteStore sites;
  private final String site;
  private final BooleanSupplier drillSet;

  /**
   * The pages.
   *
   * @param site the name of the site that they belong to
   * @param drillSet whether a drill was ever set there
   */
  public FirstDayPages(PeopleStore people, SiteStore sites, String site, BooleanSupplier drillSet) {
    this.people = people;
    this.sites = sites;
    this.site = site;
    this.drillSet = drillSet;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/first-day", ctx -> show(ctx, ""), Access.COORDINATOR);
    routes.post("/first-day/name", this::name, Access.COORDINATOR);
  }

  @Override
  public Optional<String> home(Person person) {
    return Optional.of("/first-day").filter(p -> person.role() == Role.COORDINATOR && !drillSet.getAsBoolean());
  }

  private String title() {
    return sites.site(site).map(Site::title).orElse("");
  }

  private FirstDay now() {
    List<Person> instructors = people.inRole(Role.INSTRUCTOR).stream().filter(Person::isPresent).toList();
    Set<UUID> notYetIn = people.notYetIn();
    return new FirstDay(
        !title().isEmpty(), people.cohorts().size(),
        (int) people.inRole(Role.APPRENTICE).stream().filter(Person::isPresent).count(), instructors.size(),
        (int) instructors.stream().filter(p -> !notYetIn.contains(p.id())).count(), drillSet.getAsBoolean());
  }

  private void show(Context ctx, String problem) {
    Map<String, Object> model = new HashMap<>();
    FirstDay day = now();
    model.put("problem", problem);
    model.put("day", day);
    model.put("title", Visit.formText(ctx, "title").orElseGet(this::title));
    model.put("longest", Site.LONGEST_TITLE);
    Page.show(ctx, "roster/first-day", model);
  }

  private void name(Context ctx) {
    Optional<String> title = Visit.formText(ctx, "title").filter(t -> t.length() <= Site.LONGEST_TITLE);
    if (title.isEmpty()) {
      ctx.status(400);
      show(ctx, "Give the programme a name of up to " + Site.LONGEST_TITLE + " characters, such as “Evening brass repair”.");
      return;
    }
    sites.rename(new Site(site, title.get()));
    Page.goTo(ctx, "/first-day", "The programme is called “" + title.get() + "”.");
  }
}

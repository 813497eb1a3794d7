package ferrule.competency;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** An apprentice's own record: what is complete, on what evidence, and what is missing. */
public final class CompetencyPages implements Pages {

  private final Competencies competencies;
  private final PeopleStore people;
  private final Clock clock;
  private final ZoneId zone;

  /**
   * The pages.
   *
   * @param zone the school's, in which days begin and end
   */
  public CompetencyPages(Competencies competencies, PeopleStore people, Clock clock, ZoneId zone) {
    this.competencies = competencies;
    this.people = people;
    this.clock = clock;
    this.zone = zone;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("My record", "/record", 30, Access.APPRENTICE));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/record", ctx -> show(ctx, Visit.person(ctx)), Access.APPRENTICE);
    routes.get("/record/{id}", ctx -> show(ctx, apprentice(ctx)), Access.SIGNED_IN);
  }

  private Person apprentice(Context ctx) {
    Person reader = Visit.person(ctx);
    return people.person(Visit.id(ctx, "id"))
        .filter(p -> p.role() == Role.APPRENTICE)
        .filter(p -> reader.role() != Role.APPRENTICE || p.id().equals(reader.id()))
        .orElseThrow(() -> Refusal.notFound("There is no such apprentice, or the record is not yours to see."));
  }

  private AsOf asOf(Context ctx) {
    try {
      return AsOf.parse(Visit.queryText(ctx, "as-of"), clock, zone);
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("Give the date like 2026-11-25.");
    }
  }

  private void show(Context ctx, Person apprentice) {
    AsOf asOf = asOf(ctx);
    Progress progress = competencies.of(apprentice.id(), asOf.instant());
    Programme programme = progress.programme();
    Map<String, Object> model = new HashMap<>();
    model.put("apprentice", apprentice);
    model.put("own", apprentice.id().equals(Visit.person(ctx).id()));
    model.put("asOf", asOf);
    model.put("programme", programme);
    model.put("areas", AreaView.of(programme, progress, zone));
    model.put("complete", progress.complete());
    model.put("all", progress.verdicts().size());
    Page.show(ctx, "competency/record", model);
  }
}

package ferrule.report;

import ferrule.competency.BenchHours;
import ferrule.competency.Desk;
import ferrule.competency.HoursStore;
import ferrule.drill.Assignment;
import ferrule.drill.DrillStore;
import ferrule.drill.PartNames;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.table.Table;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Pages;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The files of pages that stand below the reports: people, hours at the bench, what the class mixes up. */
public final class SchoolTablePages implements Pages {

  private final Desk desk;
  private final HoursStore hours;
  private final DrillStore drills;
  private final PartNames names;

  /** The pages. */
  public SchoolTablePages(Desk desk, HoursStore hours, DrillStore drills, PartNames names) {
    this.desk = desk;
    this.hours = hours;
    this.drills = drills;
    this.names = names;
  }

  @Override
  public void routes(RoutesConfig routes) {
    TablePages.offer(routes, "/people", this::people, Access.COORDINATOR);
    TablePages.offer(routes, "/hours", this::hours, Access.INSTRUCTOR);
    TablePages.offer(routes, "/class/mix-ups", this::mixUps, Access.INSTRUCTOR);
  }

  private Table people(Context ctx) {
    Stream<SchoolTables.PersonLine> apprentices = desk.people().cohorts().stream()
        .flatMap(c -> desk.people().roster(c.id()).stream().map(m -> SchoolTables.PersonLine.of(c, m)));
    Stream<SchoolTables.PersonLine> staff = Stream.of(Role.INSTRUCTOR, Role.COORDINATOR)
        .flatMap(role -> desk.people().inRole(role).stream()).map(SchoolTables.PersonLine::ofStaff);
    return SchoolTables.PEOPLE.of(Stream.concat(apprentices, staff).toList(), desk.today().toString());
  }

  /** Of the cohort that the address asks for, or of all. */
  private Table hours(Context ctx) {
    List<Cohort> cohorts = desk.people().cohorts().stream()
        .filter(c -> Visit.queryText(ctx, "cohort").filter(id -> !id.equals(c.id().toString())).isEmpty()).toList();
    return SchoolTables.HOURS.of(
        cohorts.stream().flatMap(this::hours).toList(),
        (cohorts.size() == 1 ? cohorts.get(0).title() + " " : "") + desk.today());
  }

  private Stream<SchoolTables.HoursLine> hours(Cohort cohort) {
    Map<UUID, Person> apprentices = desk.apprentices(cohort, desk.now(), true).stream().map(Member::person)
        .collect(Collectors.toMap(Person::id, Function.identity()));
    return BenchHours.counting(hours.about(apprentices.keySet(), desk.clock().instant())).stream()
        .map(h -> new SchoolTables.HoursLine(cohort, apprentices.get(h.apprentice()), h));
  }

  private Table mixUps(Context ctx) {
    List<UUID> set = drills.assignments().standing().stream().map(Assignment::id).toList();
    return SchoolTables.MIX_UPS.of(
        drills.mixUps(set).stream()
            .map(m -> new SchoolTables.MixUpLine(names.term(m.asked()), names.term(m.takenFor()), m)).toList(),
        desk.today().toString());
  }
}

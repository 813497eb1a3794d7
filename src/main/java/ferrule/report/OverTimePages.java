package ferrule.report;

import ferrule.bench.FlowStore;
import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.report.table.Printout;
import ferrule.report.table.TablePages;
import ferrule.report.wait.Waits;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** A cohort, or the whole bench, over time: how far they are, what is signed, how long work waits, what will lapse. */
public final class OverTimePages implements Pages {

  private static final String OF_COHORT = "/cohorts/{id}/over-time";
  private static final String OF_BENCH = "/bench-over-time";
  private static final int OTHERS = 3;
  private static final Duration PATIENCE = Duration.ofMillis(1500);
  // a file holds every week
  private static final Duration A_WHILE = Duration.ofMinutes(10);

  private final Desk desk;
  private final OverTime over;
  private final CompletionCurve.Maker curves;

  /**
   * The pages.
   *
   * @param curriculum its edition
   */
  public OverTimePages(Desk desk, FlowStore flow, CohortWeekStore weeks, String curriculum) {
    this.desk = desk;
    this.over = new OverTime(desk, flow);
    this.curves = new CompletionCurve.Maker(desk, weeks, curriculum);
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    routes.get(OF_COHORT, this::cohort, staff);
    routes.get(OF_BENCH, this::bench, staff);
    TablePages.offer(routes, OF_COHORT, ctx -> OverTimeTables.WEEKS.of(
        OverTimeTables.weeks(curves.curve(cohortOf(ctx), asOf(ctx), A_WHILE), plan(cohortOf(ctx), asOf(ctx))), about(ctx)), staff);
    TablePages.offer(routes, OF_COHORT + "/signed", ctx -> OverTimeTables.SIGNED.of(
        over.benchWeeks(asOf(ctx), Optional.of(everIn(cohortOf(ctx)))), about(ctx)), staff);
    TablePages.offer(routes, OF_COHORT + "/waits", ctx -> OverTimeTables.WAITS.of(
        over.waits(asOf(ctx), Optional.of(everIn(cohortOf(ctx)))).estimate().steps(), about(ctx)), staff);
    TablePages.offer(routes, OF_COHORT + "/lapses", ctx -> OverTimeTables.LAPSES.of(
        over.coming(cohortOf(ctx), asOf(ctx)), about(ctx)), staff);
    TablePages.offerPaper(routes, OF_COHORT, this::paper, desk.clock(), staff);
    TablePages.offer(routes, OF_BENCH, ctx -> OverTimeTables.SIGNED.of(
        over.benchWeeks(asOf(ctx), Optional.empty()), "bench " + asOf(ctx).day()), staff);
    TablePages.offer(routes, OF_BENCH + "/waits", ctx -> OverTimeTables.WAITS.of(
        over.waits(asOf(ctx), Optional.empty()).estimate().steps(), "bench " + asOf(ctx).day()), staff);
    TablePages.offerPaper(routes, OF_BENCH, ctx -> OverTimeTables.printout(
        "The bench over time", asOf(ctx), List.of(OverTimeTables.section(
            OverTimeView.bench(over.benchWeeks(asOf(ctx), Optional.empty())), over.benchWeeks(asOf(ctx), Optional.empty())),
            waitsOnPaper(ctx, Optional.empty()))), desk.clock(), staff);
  }

  private List<UUID> everIn(Cohort cohort) {
    return desk.apprentices(cohort, true).stream().map(Person::id).toList();
  }

  // -- pages

  private Cohort cohortOf(Context ctx) {
    return desk.people().cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
  }

  private AsOf asOf(Context ctx) {
    return CompetencyPages.asOf(ctx, desk);
  }

  private String about(Context ctx) {
    return cohortOf(ctx).title() + " " + asOf(ctx).day();
  }

  private List<Double> plan(Cohort cohort, AsOf asOf) {
    Programme programme = desk.competencies().programmeOfCohort(cohort.id(), asOf.instant());
    return CompletionCurve.plan(cohort, programme, weeks(cohort));
  }

  private Printout.Section waitsOnPaper(Context ctx, Optional<List<UUID>> apprentices) {
    Waits waits = over.waits(asOf(ctx), apprentices);
    return OverTimeTables.section(OverTimeView.waits(waits), waits);
  }

  private Printout paper(Context ctx) {
    Cohort cohort = cohortOf(ctx);
    AsOf asOf = asOf(ctx);
    List<UUID> apprentices = everIn(cohort);
    CompletionCurve curve = curves.curve(cohort, asOf, A_WHILE);
    List<Double> plan = plan(cohort, asOf);
    List<OverTime.BenchWeek> bench = over.benchWeeks(asOf, Optional.of(apprentices));
    List<OverTime.Coming> coming = over.coming(cohort, asOf);
    return OverTimeTables.printout(
        cohort.title() + " over time", asOf,
        List.of(
            OverTimeTables.section(OverTimeView.curve(List.of(curve), plan, weeks(cohort)), OverTimeTables.weeks(curve, plan)),
            OverTimeTables.section(OverTimeView.bench(bench), bench),
            waitsOnPaper(ctx, Optional.of(apprentices)),
            OverTimeTables.section(OverTimeView.coming(coming, asOf.day(), OverTime.DAYS_AHEAD), coming)));
  }

  private void cohort(Context ctx) {
    Cohort cohort = cohortOf(ctx);
    AsOf asOf = asOf(ctx);
    List<CompletionCurve> shown = new ArrayList<>(List.of(curves.curve(cohort, asOf, PATIENCE)));
    others(cohort, asOf).forEach(other -> shown.add(curves.curve(other, asOf, PATIENCE.dividedBy(OTHERS))));
    Optional<List<UUID>> apprentices = Optional.of(everIn(cohort));
    Map<String, Object> model = model(ctx, asOf);
    model.put("cohort", cohort);
    model.put("curve", OverTimeView.curve(shown, plan(cohort, asOf), weeks(cohort)));
    model.put("bench", OverTimeView.bench(over.benchWeeks(asOf, apprentices)));
    model.put("waits", OverTimeView.waits(over.waits(asOf, apprentices)));
    model.put("coming", OverTimeView.coming(over.coming(cohort, asOf), asOf.day(), OverTime.DAYS_AHEAD));
    Page.show(ctx, "report/over-time", model);
  }

  private void bench(Context ctx) {
    AsOf asOf = CompetencyPages.asOf(ctx, desk);
    Map<String, Object> model = model(ctx, asOf);
    model.put("bench", OverTimeView.bench(over.benchWeeks(asOf, Optional.empty())));
    model.put("waits", OverTimeView.waits(over.waits(asOf, Optional.empty())));
    Page.show(ctx, "report/over-time", model);
  }

  private static Map<String, Object> model(Context ctx, AsOf asOf) {
    Map<String, Object> model = new HashMap<>();
    model.put("files", TablePages.files(ctx.path(), TablePages.query(ctx)).withPaper(ctx.path(), TablePages.query(ctx)));
    for (String table : List.of("signed", "waits", "lapses")) {
      model.put(table + "Files", TablePages.files(ctx.path() + "/" + table, TablePages.query(ctx)));
    }
    model.put("asOf", asOf);
    model.put("cohort", null);
    model.put("weeksBack", OverTime.WEEKS_BACK);
    model.put("enough", Waits.ENOUGH);
    return model;
  }

  private static int weeks(Cohort cohort) {
    return Math.max(1, CompletionCurve.weekOf(cohort, cohort.endsOn()));
  }

  /** The cohorts to compare with: those that began last before it, or else after it. */
  private List<Cohort> others(Cohort cohort, AsOf asOf) {
    return desk.people().cohorts().stream()
        .filter(c -> !c.id().equals(cohort.id()) && c.startsOn().isBefore(asOf.day()))
        .sorted(Comparator.comparing((Cohort c) -> c.startsOn().isAfter(cohort.startsOn()))
            .thenComparing(c -> Math.abs(c.startsOn().toEpochDay() - cohort.startsOn().toEpochDay())))
        .limit(OTHERS)
        .toList();
  }
}

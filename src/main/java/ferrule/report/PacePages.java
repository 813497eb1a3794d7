package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Course;
import ferrule.competency.Desk;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.report.table.Printout;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** A cohort against its plan: prospects, who is at risk, and what would help most. */
public final class PacePages implements Pages {

  private static final String METHOD =
      "Dates are what each apprentice's own rate leads to: steps are taken to come at random at the rate seen since their"
          + " first day, and eight of ten should be done within the dates given (the F interval for the events that are to"
          + " come, from those that came, with the prior of Jeffreys). Holidays are not reckoned with. Nothing is said"
          + " before " + Course.ENOUGH_STEPS + " steps and " + Course.ENOUGH_DAYS + " days.";

  private final Desk desk;

  /** The pages. */
  public PacePages(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    String path = "/cohorts/{id}/pace";
    routes.get(path, this::show, staff);
    TablePages.offer(routes, path, ctx -> PaceTables.pace(pace(ctx)), staff);
    TablePages.offer(routes, "/cohorts/{id}/openings", ctx -> PaceTables.openings(pace(ctx)), staff);
    TablePages.offerPaper(routes, path, this::printout, desk.clock(), staff);
  }

  private PaceReport pace(Context ctx) {
    Cohort cohort = desk.people().cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
    AsOf asOf = CompetencyPages.asOf(ctx, desk);
    Programme programme = CompetencyPages.edition(ctx, desk)
        .orElseGet(() -> desk.competencies().programmeOfCohort(cohort.id(), asOf.instant()));
    return PaceReport.of(
        CohortReport.of(cohort, desk.apprentices(cohort, asOf, false), desk.competencies(), asOf, programme),
        desk.competencies());
  }

  private void show(Context ctx) {
    PaceReport pace = pace(ctx);
    PaceView view = new PaceView(pace, desk.zone());
    CohortReport report = pace.report();
    String query = TablePages.query(ctx);
    String path = "/cohorts/" + report.cohort().id() + "/pace";
    Map<String, Object> model = new HashMap<>();
    model.put("cohort", report.cohort());
    model.put("asOf", report.asOf());
    model.put("programme", report.programme());
    model.put("older", !report.programme().edition().equals(desk.competencies().programme().edition()));
    model.put("ends", AsOf.inWords(report.cohort().endsOn()));
    model.put("lines", view.lines());
    model.put("tallies", view.tallies());
    model.put("bottlenecks", view.bottlenecks());
    model.put("horizon", view.horizonInWords());
    model.put("method", METHOD);
    model.put("files", TablePages.files("", path, query).withPaper(path, query));
    model.put("openings", TablePages.files("", "/cohorts/" + report.cohort().id() + "/openings", query));
    Page.show(ctx, "report/pace", model);
  }

  private Printout printout(Context ctx) {
    PaceReport pace = pace(ctx);
    CohortReport report = pace.report();
    return new Printout(
        report.cohort().title() + ": pace and prospects",
        report.programme().title() + ", " + report.asOf().inWords() + ". The programme ends on "
            + AsOf.inWords(report.cohort().endsOn()) + ".",
        List.of(
            Printout.Section.of("", PaceTables.pace(pace), METHOD), Printout.Section.of(PaceTables.openings(pace))));
  }
}

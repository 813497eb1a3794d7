package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.report.table.Printout;
import ferrule.report.table.Table;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The whole programme for its coordinator: every cohort, every competency, and the way down to both. */
public final class SummaryPages implements Pages {

  private final Desk desk;
  private final Overviews overviews;

  /** The pages. */
  public SummaryPages(Desk desk) {
    this.desk = desk;
    this.overviews = new Overviews(desk);
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    routes.get("/summary", this::show, staff);
    TablePages.offer(routes, "/summary/cohorts", this::byCohort, staff);
    TablePages.offer(routes, "/summary/competencies", this::byCompetency, staff);
    TablePages.offerPaper(routes, "/summary", this::paper, desk.clock(), staff);
  }

  /** An area with its competencies. */
  record AreaView(String title, List<Summary.CompetencyLine> competencies) {}

  private void show(Context ctx) {
    AsOf asOf = CompetencyPages.asOf(ctx, desk);
    Overview overview = overviews.of(asOf);
    if (overview.waiting() > 0) {
      showWaiting(ctx, overview);
      return;
    }
    Summary summary = Summary.of(overview, desk.competencies().programme());
    Map<String, Object> model = new HashMap<>();
    model.put("asOf", asOf);
    model.put("summary", summary);
    model.put("counts", summary.counts());
    model.put("ahead", Outlook.AHEAD.toDays());
    model.put("programme", desk.competencies().programme());
    String query = TablePages.query(ctx);
    model.put("cohortFiles", TablePages.files("/summary/cohorts", query).withPaper("/summary", query));
    model.put("competencyFiles", TablePages.files("/summary/competencies", query));
    Optional<Summary.CompetencyLine> one = chosen(ctx, summary);
    model.put("chosen", one.map(Summary.CompetencyLine::id).orElse(""));
    if (one.isPresent()) {
      model.put("competency", one.get());
      model.put("lines", Summary.inCohorts(overview, one.get().id()));
    }
    model.put("areas", areas(summary));
    Page.show(ctx, "report/summary", model);
  }

  /** Says that it is being worked out how everyone stands, and looks again. */
  static void showWaiting(Context ctx, Overview overview) {
    ctx.header("Refresh", "5");
    Page.show(
        ctx, "report/waiting",
        Map.of("waiting", overview.waiting(), "apprentices", overview.apprentices(), "asOf", overview.asOf()));
  }

  private static List<AreaView> areas(Summary summary) {
    List<AreaView> areas = new ArrayList<>();
    for (Summary.CompetencyLine line : summary.competencies()) {
      if (areas.isEmpty() || !areas.get(areas.size() - 1).title().equals(line.area())) {
        areas.add(new AreaView(line.area(), new ArrayList<>()));
      }
      areas.get(areas.size() - 1).competencies().add(line);
    }
    return areas;
  }

  private static Optional<Summary.CompetencyLine> chosen(Context ctx, Summary summary) {
    return Visit.queryText(ctx, "competency").map(id -> summary.competencies().stream()
        .filter(c -> c.id().equals(id)).findFirst()
        .orElseThrow(() -> Refusal.notFound("No edition that a cohort is on has such a competency.")));
  }

  private Overview counted(Context ctx) {
    Overview overview = overviews.of(CompetencyPages.asOf(ctx, desk));
    if (overview.waiting() > 0) {
      throw workedOutLater(overview);
    }
    return overview;
  }

  /** Refuses a file that would be of what is not worked out yet. */
  static Refusal workedOutLater(Overview overview) {
    return Refusal.later(
        "How everyone stands is being worked out: " + overview.waiting() + " apprentices are left. Try again in a minute.");
  }

  private Table byCohort(Context ctx) {
    Overview overview = counted(ctx);
    Summary summary = Summary.of(overview, desk.competencies().programme());
    String day = overview.asOf().day().toString();
    return chosen(ctx, summary)
        .map(c -> SummaryTables.COMPETENCY_BY_COHORT.of(
            Summary.inCohorts(overview, c.id()), c.title() + " " + day))
        .orElseGet(() -> SummaryTables.BY_COHORT.of(summary.cohorts(), day));
  }

  private Table byCompetency(Context ctx) {
    Overview overview = counted(ctx);
    Summary summary = Summary.of(overview, desk.competencies().programme());
    return SummaryTables.BY_COMPETENCY.of(summary.competencies(), overview.asOf().day().toString());
  }

  private Printout paper(Context ctx) {
    Overview overview = counted(ctx);
    Summary summary = Summary.of(overview, desk.competencies().programme());
    Summary.Counts counts = summary.counts();
    String says = summary.apprentices() + " apprentices in " + summary.cohorts().size() + " cohorts: "
        + counts.percent() + " % of their competencies are complete, " + counts.behind() + " are behind the plan, "
        + counts.lapsed() + " have lapsed.";
    return new Printout(
        desk.competencies().programme().title() + ": summary", "At " + overview.asOf().inWords() + ".",
        List.of(
            Printout.Section.of(SummaryTables.BY_COHORT.of(summary.cohorts()), says),
            Printout.Section.of(SummaryTables.BY_COMPETENCY.of(summary.competencies()))));
  }
}

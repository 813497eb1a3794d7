package ferrule.report;

import ferrule.competency.Area;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.report.table.Printout;
import ferrule.report.table.Table;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

/** Cohorts by competency, on screen, on paper and as a file. */
public final class ReportPages implements Pages {

  private static final int FEW = 4;
  // with more competencies than fit side by side, areas are shown first
  private static final int WIDE = 40;

  private final Desk desk;

  /** The pages. */
  public ReportPages(Desk desk) {
    this.desk = desk;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(
        NavEntry.of("Cohorts", "/cohorts", 10, Access.COORDINATOR),
        NavEntry.of("Cohorts", "/cohorts", 40, Access.INSTRUCTOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/cohorts", this::list, Access.COORDINATOR, Access.INSTRUCTOR);
    routes.get("/cohorts/{id}", this::show, Access.COORDINATOR, Access.INSTRUCTOR);
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    TablePages.offer(routes, "/cohorts", this::cohortsTable, staff);
    TablePages.offer(routes, "/concerns", this::concernsTable, staff);
    TablePages.offerPaper(routes, "/cohorts", this::cohortsPaper, desk.clock(), staff);
    TablePages.offer(routes, "/cohorts/{id}/competencies", this::competenciesTable, staff);
    TablePages.offerPaper(routes, "/cohorts/{id}/competencies", this::paper, desk.clock(), staff);
  }

  /** A cohort in the list, with the first few of each sort and how many more there are. */
  record CohortLine(
      UUID id,
      String title,
      String dates,
      String edition,
      boolean older,
      int apprentices,
      int percent,
      Few<Outlook.Behind> behind,
      Few<StuckLine> stuck,
      Few<Outlook.Currency> lapsed,
      Few<Outlook.Currency> lapsing) {}

  /** The first few of a list. */
  record Few<T>(List<T> first, int more) {

    static <T> Few<T> of(List<T> all) {
      return new Few<>(all.subList(0, Math.min(FEW, all.size())), Math.max(0, all.size() - FEW));
    }
  }

  /** An apprentice of whom nothing was signed for long. */
  record StuckLine(UUID id, String name, String since) {}

  private void list(Context ctx) {
    Overview overview = overview();
    if (overview.waiting() > 0) {
      SummaryPages.showWaiting(ctx, overview);
      return;
    }
    Page.show(
        ctx, "report/cohorts",
        Map.of(
            "cohorts", lines(overview).map(this::view).toList(),
            "competencies", desk.competencies().programme().competencies(),
            "ahead", Outlook.AHEAD.toDays(), "still", Outlook.STILL.toDays() / 7,
            "files", TablePages.files("Cohorts", "/cohorts", "").withPaper("/cohorts", ""),
            "concerns", TablePages.files("What to look at", "/concerns", "")));
  }

  private Overview overview() {
    return Overview.of(desk, desk.now());
  }

  private Stream<OutlookTables.Line> lines() {
    Overview overview = overview();
    if (overview.waiting() > 0) {
      throw SummaryPages.workedOutLater(overview);
    }
    return lines(overview);
  }

  private static Stream<OutlookTables.Line> lines(Overview overview) {
    return overview.cohorts().stream()
        .map(c -> new OutlookTables.Line(
            c.cohort(), c.programme().edition(), c.rows().size(), Outlook.of(c, overview.asOf())));
  }

  private CohortLine view(OutlookTables.Line line) {
    Cohort cohort = line.cohort();
    Outlook outlook = line.outlook();
    return new CohortLine(
        cohort.id(), cohort.title(), AsOf.inWords(cohort.startsOn()) + " to " + AsOf.inWords(cohort.endsOn()),
        line.edition(), !line.edition().equals(desk.competencies().programme().edition()),
        line.apprentices(), outlook.percent(), Few.of(outlook.behind()),
        Few.of(outlook.stuck().stream().map(s -> new StuckLine(s.id(), s.name(), since(s.last()))).toList()),
        Few.of(outlook.lapsed()), Few.of(outlook.lapsing()));
  }

  private Table cohortsTable(Context ctx) {
    return OutlookTables.COHORTS.of(lines().toList(), desk.today().toString());
  }

  private Table concernsTable(Context ctx) {
    return OutlookTables.CONCERNS.of(
        lines().flatMap(line -> OutlookTables.concerns(line).stream()).toList(), desk.today().toString());
  }

  private Printout cohortsPaper(Context ctx) {
    List<OutlookTables.Line> lines = lines().toList();
    return new Printout(
        "Cohorts", "On " + AsOf.inWords(desk.today()) + ".",
        List.of(
            Printout.Section.of("", OutlookTables.COHORTS.of(lines)),
            Printout.Section.of(OutlookTables.CONCERNS.of(
                lines.stream().flatMap(line -> OutlookTables.concerns(line).stream()).toList()))));
  }

  private String since(Optional<Instant> last) {
    return last.map(at -> "since " + AsOf.inWords(LocalDate.ofInstant(at, desk.zone()))).orElse("yet");
  }

  private CohortReport report(Cohort cohort, List<Member> members, AsOf asOf, Programme programme) {
    return CohortReport.of(cohort, members, desk.competencies(), asOf, programme);
  }

  private CohortReport report(Context ctx) {
    Cohort cohort = desk.people().cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
    AsOf asOf = CompetencyPages.asOf(ctx, desk);
    Programme programme = CompetencyPages.edition(ctx, desk)
        .orElseGet(() -> desk.competencies().programmeOfCohort(cohort.id(), asOf.instant()));
    return report(cohort, desk.apprentices(cohort, asOf, leaversToo(ctx)), asOf, programme);
  }

  private static boolean leaversToo(Context ctx) {
    return Visit.queryText(ctx, "leavers").isPresent();
  }

  private static MatrixFilter filter(Context ctx, CohortReport report) {
    MatrixFilter.State state = Visit.queryText(ctx, "show").map(word -> MatrixFilter.State.find(word)
        .orElseThrow(() -> Refusal.invalid("Show what is lacking, behind or lapsed."))).orElse(MatrixFilter.State.ANY);
    Optional<Area> area = Visit.queryText(ctx, "area").map(id -> report.programme().areas().stream()
        .filter(a -> a.id().equals(id)).findFirst()
        .orElseThrow(() -> Refusal.notFound("This edition of the programme has no such area.")));
    return new MatrixFilter(state, area, Visit.queryText(ctx, "q").orElse(""));
  }

  private void show(Context ctx) {
    CohortReport report = report(ctx);
    Map<String, Object> model = new HashMap<>();
    model.put("cohort", report.cohort());
    model.put("asOf", report.asOf());
    model.put("programme", report.programme());
    model.put("competencies", report.programme().competencies());
    model.put("areas", report.programme().areas());
    model.put("states", MatrixFilter.State.values());
    MatrixFilter filter = filter(ctx, report);
    model.put("filter", filter);
    model.put("inArea", filter.area().map(Area::id).orElse(""));
    model.put("leavers", leaversToo(ctx));
    String files = "/cohorts/" + report.cohort().id() + "/competencies";
    String query = TablePages.query(ctx);
    model.put("files", TablePages.files(files, query).withPaper(files, query));
    model.put("older", !report.programme().edition().equals(desk.competencies().programme().edition()));
    Optional<Competency> one = competency(ctx, report, filter);
    model.put("chosen", one.map(Competency::id).orElse(""));
    if (one.isPresent()) {
      model.put("competency", one.get());
      model.put("proof", one.get().requires().inWords());
      model.put("lines", MatrixView.lines(filter.of(report, one.get()), one.get(), desk.zone()));
      model.put("tally", MatrixView.tally(report, one.get()));
      model.put("everyone", report.rows().size());
      Page.show(ctx, "report/competency", model);
      return;
    }
    MatrixFilter.Selection selection = filter.of(report);
    boolean large = report.programme().competencies().size() > WIDE;
    boolean whole = Visit.queryText(ctx, "whole").isPresent();
    model.put("everyone", report.rows().size());
    if (large && !whole && filter.isByName(report)) {
      model.put("columns", MatrixView.areaColumns(report));
      model.put("rows", MatrixView.areaRows(selection));
      Page.show(ctx, "report/areas", model);
      return;
    }
    model.put("large", large);
    model.put("groups", MatrixView.groups(selection));
    model.put("columns", MatrixView.columns(selection));
    model.put("rows", MatrixView.rows(filter, selection));
    Page.show(ctx, "report/cohort", model);
  }

  /** The competency that is asked for, or the only one that the words name. */
  private static Optional<Competency> competency(Context ctx, CohortReport report, MatrixFilter filter) {
    Optional<Competency> asked = Visit.queryText(ctx, "competency").map(id -> report.programme().find(id)
        .orElseThrow(() -> Refusal.notFound("This edition of the programme has no such competency.")));
    List<Competency> named = filter.named(report);
    return asked.isEmpty() && named.size() == 1 ? Optional.of(named.get(0)) : asked;
  }

  private static MatrixFilter.Selection selection(Context ctx, CohortReport report, MatrixFilter filter) {
    return competency(ctx, report, filter).map(c -> filter.of(report, c)).orElseGet(() -> filter.of(report));
  }

  private Table competenciesTable(Context ctx) {
    CohortReport report = report(ctx);
    MatrixFilter filter = filter(ctx, report);
    return CohortTables.table(filter, selection(ctx, report, filter));
  }

  private Printout paper(Context ctx) {
    CohortReport report = report(ctx);
    MatrixFilter filter = filter(ctx, report);
    MatrixFilter.Selection selection = selection(ctx, report, filter);
    return competency(ctx, report, filter).map(c -> CohortTables.printout(selection, c))
        .orElseGet(() -> filter.isNone() ? CohortTables.printout(report) : CohortTables.printout(filter, selection));
  }
}

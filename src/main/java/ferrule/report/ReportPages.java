package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competencies;
import ferrule.people.Cohort;
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
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** Cohorts by competency, on screen, on paper and as a file. */
public final class ReportPages implements Pages {

  private final Competencies competencies;
  private final PeopleStore people;
  private final Clock clock;
  private final ZoneId zone;

  /**
   * The pages.
   *
   * @param zone the school's, in which days begin and end
   */
  public ReportPages(Competencies competencies, PeopleStore people, Clock clock, ZoneId zone) {
    this.competencies = competencies;
    this.people = people;
    this.clock = clock;
    this.zone = zone;
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
    routes.get("/cohorts/{id}/competencies.csv", this::download, Access.COORDINATOR, Access.INSTRUCTOR);
  }

  /** A cohort in the list. */
  record CohortLine(UUID id, String title, String dates, int apprentices, int percent) {}

  private void list(Context ctx) {
    List<CohortLine> lines = people.cohorts().stream().map(this::line).toList();
    Page.show(ctx, "report/cohorts", Map.of("cohorts", lines, "programme", competencies.programme()));
  }

  private CohortLine line(Cohort cohort) {
    AsOf now = AsOf.parse(java.util.Optional.empty(), clock, zone);
    CohortReport report = CohortReport.of(cohort, members(cohort, false), competencies, now);
    long complete = report.rows().stream().mapToLong(r -> r.progress().complete()).sum();
    long all = (long) report.rows().size() * report.programme().competencies().size();
    String dates = new AsOf(cohort.startsOn(), now.instant(), true).inWords() + " to "
        + new AsOf(cohort.endsOn(), now.instant(), true).inWords();
    return new CohortLine(
        cohort.id(), cohort.title(), dates, report.rows().size(), all == 0 ? 0 : (int) (100 * complete / all));
  }

  private List<Person> members(Cohort cohort, boolean leaversToo) {
    List<Person> members = leaversToo ? people.membersEver(cohort.id()) : people.members(cohort.id());
    return members.stream().filter(p -> p.role() == Role.APPRENTICE).toList();
  }

  private CohortReport report(Context ctx) {
    Cohort cohort = people.cohort(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such cohort. Go back to the list of cohorts."));
    try {
      AsOf asOf = AsOf.parse(Visit.queryText(ctx, "as-of"), clock, zone);
      return CohortReport.of(cohort, members(cohort, leaversToo(ctx)), competencies, asOf);
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("Give the date like 2026-11-25.");
    }
  }

  private static boolean leaversToo(Context ctx) {
    return Visit.queryText(ctx, "leavers").isPresent();
  }

  private void show(Context ctx) {
    CohortReport report = report(ctx);
    Map<String, Object> model = new HashMap<>();
    model.put("cohort", report.cohort());
    model.put("asOf", report.asOf());
    model.put("programme", report.programme());
    model.put("columns", MatrixView.columns(report));
    model.put("rows", MatrixView.rows(report));
    model.put("leavers", leaversToo(ctx));
    String leavers = leaversToo(ctx) ? (report.asOf().past() ? "&" : "?") + "leavers=yes" : "";
    model.put("download", "/cohorts/" + report.cohort().id() + "/competencies.csv" + report.asOf().query() + leavers);
    model.put("otherEdition", !report.cohort().edition().equals(report.programme().edition()));
    Page.show(ctx, "report/cohort", model);
  }

  private void download(Context ctx) {
    CohortReport report = report(ctx);
    StringBuilder csv = new StringBuilder(ReportCsv.BYTE_ORDER_MARK);
    try {
      ReportCsv.write(report, csv);
    } catch (IOException e) {
      throw new UncheckedIOException("writing to memory does not fail", e);
    }
    // RFC 6266: the encoded form carries letters beyond ASCII
    String name = URLEncoder.encode(ReportCsv.fileName(report), StandardCharsets.UTF_8);
    ctx.header("Content-Disposition", "attachment; filename*=UTF-8''" + name);
    ctx.contentType("text/csv; charset=utf-8");
    ctx.result(csv.toString().getBytes(StandardCharsets.UTF_8));
  }
}

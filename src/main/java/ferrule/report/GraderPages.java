package ferrule.report;

import ferrule.bench.BlindGrade;
import ferrule.bench.BlindStore;
import ferrule.bench.Conformity;
import ferrule.bench.Finding;
import ferrule.bench.FlowStore;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.competency.Desk;
import ferrule.people.Person;
import ferrule.report.agreement.Agreement;
import ferrule.report.agreement.Estimate;
import ferrule.report.agreement.Rating;
import ferrule.report.chart.SpreadChart;
import ferrule.report.table.TablePages;
import ferrule.report.wait.Quartiles;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

/** How graders agree who judged the same work without seeing each other's grades. */
public final class GraderPages implements Pages {

  private final BlindStore blind;
  private final TaskBook tasks;
  private final Desk desk;
  private final OverTime over;

  /** The pages. */
  public GraderPages(BlindStore blind, TaskBook tasks, FlowStore flow, Desk desk) {
    this.blind = blind;
    this.tasks = tasks;
    this.desk = desk;
    this.over = new OverTime(desk, flow);
  }

  @Override
  public void routes(RoutesConfig routes) {
    Access[] staff = {Access.COORDINATOR, Access.INSTRUCTOR};
    routes.get("/graders", this::show, staff);
    TablePages.offer(routes, "/graders/criteria", ctx -> GraderTables.CRITERIA.of(figures().criteria()), staff);
    TablePages.offer(routes, "/graders/pairs", ctx -> GraderTables.PAIRS.of(figures().pairs()), staff);
    TablePages.offer(routes, "/graders", ctx -> GraderTables.SEVERITY.of(figures().severities()), staff);
    TablePages.offerPaper(
        routes, "/graders",
        ctx -> GraderTables.printout(
            figures().works(), figures().severities(), figures().criteria(), figures().pairs(), turnaround()),
        desk.clock(), staff);
    TablePages.offer(routes, "/graders/turnaround", ctx -> OverTimeTables.TURNAROUND.of(turnaround()), staff);
  }

  /** How soon each grader graded what came from the queue in the last weeks. */
  private List<OverTimeTables.TurnaroundLine> turnaround() {
    return over.waits(desk.now(), Optional.empty()).graders().stream()
        .map(t -> new OverTimeTables.TurnaroundLine(
            desk.people().person(t.grader()).map(Person::fullName).orElse("somebody who is not here any more"), t))
        .toList();
  }

  /** A task with its criteria. */
  record TaskView(String title, List<CriterionView> criteria) {

    int works() {
      return criteria.stream().mapToInt(CriterionView::works).max().orElse(0);
    }
  }

  /** A criterion. */
  record CriterionView(
      String title, int works, String agreeing, String kappa, String state, String advice, List<PairView> pairs) {}

  /** Two graders on one criterion. */
  record PairView(String graders, int works, String plain, String linear, String quadratic) {}

  /** A grader. */
  record SeverityView(String name, int works, String difference, String says, String state) {}

  /** The figures, with titles and names. */
  private record Figures(
      long works, List<GraderTables.SeverityLine> severities, List<GraderTables.CriterionLine> criteria,
      List<GraderTables.PairLine> pairs) {}

  private Figures figures() {
    List<BlindGrade> grades = blind.blindGrades();
    Map<UUID, String> names = new HashMap<>();
    grades.forEach(g -> names.put(g.grader(), g.graderName()));
    Map<String, BlindGrade> examples = new HashMap<>();
    grades.forEach(g -> examples.put(key(g), g));
    Agreement agreement = Agreement.of(grades.stream().map(GraderPages::rating).toList());
    List<GraderTables.CriterionLine> criteria = agreement.criteria().stream()
        .map(c -> new GraderTables.CriterionLine(
            title(examples.get(c.criterion())), examples.get(c.criterion()).finding().title(), c))
        .sorted(Comparator.comparing(GraderTables.CriterionLine::task)).toList();
    return new Figures(
        grades.stream().map(BlindGrade::work).distinct().count(),
        agreement.severities().stream()
            .map(s -> new GraderTables.SeverityLine(names.get(s.grader()), s)).toList(),
        criteria,
        criteria.stream().flatMap(c -> c.of().pairs().stream().map(p -> new GraderTables.PairLine(
            c.task(), c.criterion(), names.get(p.first()), names.get(p.second()), p))).toList());
  }

  private void show(Context ctx) {
    List<BlindGrade> grades = blind.blindGrades();
    Map<UUID, String> names = new HashMap<>();
    grades.forEach(g -> names.put(g.grader(), g.graderName()));
    Map<String, BlindGrade> criteria = new HashMap<>();
    grades.forEach(g -> criteria.put(key(g), g));
    Agreement agreement = Agreement.of(grades.stream().map(GraderPages::rating).toList());
    Map<String, List<CriterionView>> byTask = agreement.criteria().stream().collect(Collectors.groupingBy(
        c -> title(criteria.get(c.criterion())), TreeMap::new,
        Collectors.mapping(c -> view(c, criteria.get(c.criterion()), names), Collectors.toList())));
    Map<Boolean, List<TaskView>> views = byTask.entrySet().stream()
        .map(e -> new TaskView(e.getKey(), e.getValue()))
        .sorted(Comparator.comparingInt(TaskView::works).reversed())
        .collect(Collectors.partitioningBy(t -> t.works() >= Agreement.ENOUGH));
    List<OverTimeTables.TurnaroundLine> turnaround = turnaround();
    Page.show(
        ctx, "report/graders",
        Map.of(
            "turnaround", turnaround.stream().map(GraderPages::view).toList(),
            "soon", soon(turnaround),
            "turnaroundFiles", TablePages.files("/graders/turnaround", ""),
            "weeksBack", OverTime.WEEKS_BACK,
            "tasks", views.get(true), "few", views.get(false),
            "graders", agreement.severities().stream().map(s -> view(s, names)).toList(),
            "works", grades.stream().map(BlindGrade::work).distinct().count(),
            "enough", Agreement.ENOUGH,
            "files", List.of(
                TablePages.files("Who is stricter", "/graders", "").withPaper("/graders", ""),
                TablePages.files("By criterion", "/graders/criteria", ""),
                TablePages.files("Two by two", "/graders/pairs", ""))));
  }

  private String title(BlindGrade grade) {
    return tasks.find(grade.task()).map(Task::title).orElse(grade.task().value());
  }

  private static String key(BlindGrade grade) {
    return grade.task() + "/" + grade.finding().criterion();
  }

  private static Rating rating(BlindGrade grade) {
    if (grade.finding() instanceof Finding.Rated rated) {
      return new Rating(grade.work(), key(grade), grade.grader(), rated.level() - 1, rated.levels());
    }
    Conformity verdict = ((Finding.Measured) grade.finding()).verdict();
    int level = verdict == Conformity.CONFORMING ? 2 : verdict == Conformity.UNDECIDED ? 1 : 0;
    return new Rating(grade.work(), key(grade), grade.grader(), level, Conformity.values().length);
  }

  private static CriterionView view(Agreement.OfCriterion c, BlindGrade example, Map<UUID, String> names) {
    Agreement.Reading reading = c.reading();
    return new CriterionView(
        example.finding().title(), c.works(), Math.round(100 * c.agreeing()) + " %", kappa(c.fleiss()), state(reading),
        advice(reading, c.works()),
        c.pairs().stream()
            .map(p -> new PairView(
                names.get(p.first()) + " and " + names.get(p.second()), p.works(), kappa(p.plain()), kappa(p.linear()),
                kappa(p.quadratic())))
            .toList());
  }

  private static String state(Agreement.Reading reading) {
    return switch (reading) {
      case GOOD -> "good";
      case POOR -> "bad";
      case OPEN -> "open";
      case TOO_FEW, ONE_LEVEL -> "idle";
    };
  }

  private static String advice(Agreement.Reading reading, int works) {
    return switch (reading) {
      case GOOD -> "They agree well.";
      case POOR -> "They read the levels differently. Grade two pieces of work together and agree on the wording.";
      case OPEN -> "Not decided yet. Have more work graded twice.";
      case ONE_LEVEL -> "Nearly all work got one level, so that kappa says little; look at the share that agrees.";
      case TOO_FEW -> "Too few to say: " + works + " of " + Agreement.ENOUGH + " pieces of work.";
    };
  }

  private static SeverityView view(Agreement.Severity s, Map<UUID, String> names) {
    String difference = s.difference().map(d -> number(d, "%+.0f")).orElse("one piece of work only");
    if (!s.isEnough()) {
      return new SeverityView(
          names.get(s.grader()), s.works(), difference,
          "Too few to say: " + s.works() + " of " + Agreement.ENOUGH + " pieces of work.", "idle");
    }
    String says = !s.isClear() ? "No clear difference."
        : s.difference().orElseThrow().value() < 0 ? "Stricter than the others." : "Milder than the others.";
    return new SeverityView(names.get(s.grader()), s.works(), difference, says, s.isClear() ? "open" : "good");
  }

  /** How soon somebody grades, in words; dashes where there is too little. */
  record SoonView(String name, int works, boolean enough, String half, String middle, String taking) {}

  private static SoonView view(OverTimeTables.TurnaroundLine line) {
    Quartiles ready = line.of().fromReady();
    return new SoonView(
        line.grader(), ready.n(), line.of().isEnough(), OverTimeView.duration(ready.median()),
        OverTimeView.duration(ready.lower()) + " to " + OverTimeView.duration(ready.upper()),
        OverTimeView.duration(line.of().fromTaking().median()));
  }

  /** The chart of those with enough work; empty if there is none. */
  private static String soon(List<OverTimeTables.TurnaroundLine> turnaround) {
    List<SpreadChart.Row> rows = turnaround.stream().filter(l -> l.of().isEnough())
        .map(l -> new SpreadChart.Row(
            l.grader(), OverTimeView.place(l.of().fromReady().lower()), OverTimeView.place(l.of().fromReady().median()),
            OverTimeView.place(l.of().fromReady().upper())))
        .toList();
    double most = rows.stream().mapToDouble(SpreadChart.Row::upper).max().orElse(0);
    return rows.isEmpty() ? "" : new SpreadChart(
        "From ready to graded, by grader: the middle half and the median.", OverTimeView.waited(most), rows).html();
  }

  private static String kappa(Optional<Estimate> estimate) {
    return estimate.map(e -> number(e, "%.2f")).orElse("none");
  }

  private static String number(Estimate e, String format) {
    return String.format(Locale.ENGLISH, format + " (" + format + " to " + format + ")", e.value(), e.low(), e.high())
        .replace('-', '−');
  }
}

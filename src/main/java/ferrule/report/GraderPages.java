package ferrule.report;

import ferrule.bench.BlindGrade;
import ferrule.bench.BlindStore;
import ferrule.bench.Conformity;
import ferrule.bench.Finding;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.report.agreement.Agreement;
import ferrule.report.agreement.Estimate;
import ferrule.report.agreement.Rating;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
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
  private final Clock clock;

  /** The pages. */
  public GraderPages(BlindStore blind, TaskBook tasks, Clock clock) {
    this.blind = blind;
    this.tasks = tasks;
    this.clock = clock;
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
            figures().works(), figures().severities(), figures().criteria(), figures().pairs()),
        clock, staff);
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
    Page.show(
        ctx, "report/graders",
        Map.of(
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

  private static String kappa(Optional<Estimate> estimate) {
    return estimate.map(e -> number(e, "%.2f")).orElse("none");
  }

  private static String number(Estimate e, String format) {
    return String.format(Locale.ENGLISH, format + " (" + format + " to " + format + ")", e.value(), e.low(), e.high())
        .replace('-', '−');
  }
}

package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.report.chart.Axis;
import ferrule.report.chart.ColumnChart;
import ferrule.report.chart.LineChart;
import ferrule.report.chart.Look;
import ferrule.report.wait.ProductLimit;
import ferrule.report.wait.Quartiles;
import ferrule.report.wait.Waits;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.IntStream;

/** Figures over time as the pages show them: a chart, and the numbers beneath. */
final class OverTimeView {

  private static final DateTimeFormatter SHORT = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);
  private static final List<Double> WEEK_STEPS = List.of(1.0, 2.0, 4.0, 8.0, 13.0, 26.0, 52.0);
  private static final int DAY = 24;
  private static final List<Double> MARKS =
      List.of(0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 24.0, 48.0, 96.0, 168.0, 336.0, 672.0, 1344.0);
  // the axis of waits is even up to a quarter of an hour
  private static final double EVENLY_UP_TO = 4;

  private OverTimeView() {}

  // -- how far they are

  /**
   * Curves of completion.
   *
   * @param chart its markup
   * @param rows of the first cohort, the latest week first
   * @param missing how many weeks are still to be worked out
   * @param says where the first cohort is, in a sentence; empty if nothing is known
   */
  record Curve(LineChart chart, List<WeekRow> rows, int missing, String says) {}

  /** A week in words. */
  record WeekRow(int week, String day, int apprentices, String share, String quartiles, String plan) {}

  static Curve curve(List<CompletionCurve> curves, List<Double> plan, int weeks) {
    CompletionCurve own = curves.get(0);
    List<LineChart.Line> lines = new ArrayList<>();
    for (CompletionCurve c : curves) {
      lines.add(new LineChart.Line(c.cohort().title(), Look.of(lines.size()), points(c, c == own), false));
    }
    lines.add(new LineChart.Line(
        "plan", Look.PLAN,
        IntStream.range(0, plan.size()).mapToObj(w -> LineChart.Point.of(w, plan.get(w), false)).toList(), true));
    int last = curves.stream().flatMap(c -> c.weeks().stream().map(w -> CompletionCurve.weekOf(c.cohort(), w.day())))
        .mapToInt(w -> w).max().orElse(0);
    Axis across = new Axis(
        "week of the cohort’s own programme", 0, Math.max(weeks, last), WEEK_STEPS, w -> Long.toString(Math.round(w)));
    List<WeekRow> rows = new ArrayList<>();
    own.weeks().forEach(w -> rows.add(0, row(own, w, plan)));
    String says = rows.isEmpty() ? "" : "After week " + rows.get(0).week() + ", " + rows.get(0).share()
        + " of the competencies of those who were there are complete; the plan asks for " + rows.get(0).plan() + ".";
    LineChart chart = new LineChart(
        "Share of competencies complete, by week. " + says, across, Axis.shares("competencies complete"), lines);
    return new Curve(chart, rows, curves.stream().mapToInt(CompletionCurve::missing).sum(), says);
  }

  private static List<LineChart.Point> points(CompletionCurve curve, boolean banded) {
    List<CohortWeek> weeks = curve.weeks();
    int marks = Math.max(1, weeks.size() / 8);
    return IntStream.range(0, weeks.size()).mapToObj(i -> {
      CohortWeek w = weeks.get(i);
      double of = Math.max(1, w.competencies());
      boolean marked = i == weeks.size() - 1 || i % marks == 0;
      return new LineChart.Point(
          CompletionCurve.weekOf(curve.cohort(), w.day()), w.share(),
          banded ? w.quartiles().lower() / of : w.share(), banded ? w.quartiles().upper() / of : w.share(), marked);
    }).toList();
  }

  private static WeekRow row(CompletionCurve curve, CohortWeek w, List<Double> plan) {
    int week = CompletionCurve.weekOf(curve.cohort(), w.day());
    Quartiles q = w.quartiles();
    return new WeekRow(
        week, AsOf.inWords(w.day()), w.apprentices(), percent(w.share()),
        figure(q.lower()) + " to " + figure(q.upper()) + " of " + w.competencies(),
        percent(plan.get(Math.min(week, plan.size() - 1))));
  }

  // -- the bench

  /** What was signed, week by week. */
  record Bench(ColumnChart chart, List<BenchRow> rows, int graded, boolean empty) {}

  /** A week of the bench in words. */
  record BenchRow(String week, int graded, int seconds, int corrected, int withdrawn) {}

  static Bench bench(List<OverTime.BenchWeek> weeks) {
    int graded = weeks.stream().mapToInt(w -> w.signed().graded()).sum();
    int most = weeks.stream().mapToInt(w -> w.signed().graded()).max().orElse(0);
    ColumnChart chart = new ColumnChart(
        graded + " pieces of work were signed in " + weeks.size() + " weeks, at most " + most + " in one.",
        "week beginning on Monday", Axis.counts("pieces of work signed", Math.max(1, most)),
        weeks.stream().map(w -> new ColumnChart.Column(w.signed().graded(), 0)).toList(),
        i -> i % 4 == (weeks.size() - 1) % 4 ? SHORT.format(weeks.get(i).monday()) : "", List.of("signed"));
    List<BenchRow> rows = new ArrayList<>();
    weeks.forEach(w -> rows.add(0, new BenchRow(
        AsOf.inWords(w.monday()), w.signed().graded(), w.signed().seconds(), w.signed().corrected(),
        w.signed().withdrawn())));
    return new Bench(chart, rows, graded, most == 0);
  }

  // -- waiting

  /**
   * How long work waits to be graded.
   *
   * @param says half of it in a sentence, or that there is too little
   * @param rows the share that still waits after some times
   */
  record Waiting(LineChart chart, String says, boolean enough, int asked, int ended, int waiting, List<WaitRow> rows) {}

  /** A time and the share that waits longer. */
  record WaitRow(String after, String share, String interval, int atRisk) {}

  static Waiting waits(Waits waits) {
    ProductLimit estimate = waits.estimate();
    double last = Math.max(1, estimate.last());
    Axis across = waited(place(last));
    List<LineChart.Point> points = new ArrayList<>(List.of(LineChart.Point.of(0, 1, false)));
    estimate.steps().forEach(s -> points.add(
        new LineChart.Point(place(s.time()), s.waiting(), s.low(), s.high(), false)));
    LineChart.Point end = points.get(points.size() - 1);
    points.add(new LineChart.Point(place(estimate.last()), end.y(), end.low(), end.high(), false));
    String says = says(waits);
    LineChart chart = new LineChart(
        "Share of the work that still waits to be graded. " + says, across, Axis.shares("still waiting"),
        List.of(new LineChart.Line("", Look.SOLID, points, true)));
    return new Waiting(
        chart, says, waits.isEnough(), estimate.n(), estimate.ended(), waits.waiting(), rows(estimate));
  }

  /** An axis of waits up to a place on it. */
  static Axis waited(double most) {
    return Axis.marked(
        "since it was said to be ready, each step to the right longer than the one before", 0, most,
        MARKS.stream().map(OverTimeView::place).toList(), v -> duration((Math.exp(v) - 1) / EVENLY_UP_TO));
  }

  /** Where a time in hours stands: minutes and days on one axis, by the logarithm. */
  static double place(double hours) {
    return Math.log1p(EVENLY_UP_TO * hours);
  }

  private static String says(Waits waits) {
    if (!waits.isEnough()) {
      return "Too few to say how long: " + waits.estimate().ended() + " of " + Waits.ENOUGH + " graded.";
    }
    OptionalDouble median = waits.estimate().untilOnly(0.5);
    if (median.isEmpty()) {
      return "More than half still wait.";
    }
    List<OptionalDouble> limits = waits.estimate().medianLimits();
    String upper = limits.get(1).isPresent() ? duration(limits.get(1).getAsDouble()) : "more than was seen";
    return "Half are graded within " + duration(median.getAsDouble()) + " (95 % interval: "
        + duration(limits.get(0).orElse(0)) + " to " + upper + ").";
  }

  /** After a quarter of an hour, an hour, and so on: the last step up to then. */
  private static List<WaitRow> rows(ProductLimit estimate) {
    List<WaitRow> rows = new ArrayList<>();
    for (double hours : MARKS) {
      ProductLimit.Step at = null;
      for (ProductLimit.Step step : estimate.steps()) {
        at = step.time() <= hours ? step : at;
      }
      if (at != null && hours <= 2 * estimate.last()) {
        rows.add(new WaitRow(
            duration(hours), percent(at.waiting()), percent(at.low()) + " to " + percent(at.high()),
            at.atRisk()));
      }
    }
    return rows;
  }

  // -- currencies

  /** What will have to be shown again. */
  record ComingUp(ColumnChart chart, List<ComingRow> rows) {}

  /** A competency of an apprentice and its day, in words. */
  record ComingRow(String day, String id, String name, String competency, String title) {}

  static ComingUp coming(List<OverTime.Coming> coming, LocalDate today, int days) {
    int weeks = days / 7;
    int[] counts = new int[weeks];
    coming.forEach(c -> counts[Math.min(weeks - 1, (int) (c.day().toEpochDay() - today.toEpochDay() - 1) / 7)]++);
    int most = IntStream.of(counts).max().orElse(0);
    ColumnChart chart = new ColumnChart(
        coming.size() + " competencies will have to be shown again within " + weeks + " weeks if nothing is done.",
        "week from", Axis.counts("competencies to be shown again", Math.max(1, most)),
        IntStream.of(counts).mapToObj(n -> new ColumnChart.Column(n, 0)).toList(),
        i -> i % 4 == 0 ? SHORT.format(today.plusDays(1 + 7L * i)) : "", List.of("lapsing"));
    return new ComingUp(chart, coming.stream()
        .map(c -> new ComingRow(AsOf.inWords(c.day()), c.id().toString(), c.name(), c.competency(), c.title())).toList());
  }

  // -- words

  static String percent(double share) {
    return Math.round(100 * share) + " %";
  }

  /** A number with at most one place, none if it is whole. */
  static String figure(double value) {
    return Math.abs(value - Math.rint(value)) < 0.05
        ? Long.toString(Math.round(value)) : String.format(Locale.ENGLISH, "%.1f", value);
  }

  /** Hours in words, such as "1 h 20 min" or "3 days 4 h". */
  static String duration(double hours) {
    long minutes = Math.round(60 * hours);
    long days = minutes / (60 * DAY);
    long h = minutes / 60 % DAY;
    long min = minutes % 60;
    if (days > 0) {
      return days + (days == 1 ? " day" : " days") + (h > 0 ? " " + h + " h" : "");
    }
    return h > 0 ? h + " h" + (min > 0 ? " " + min + " min" : "") : min + " min";
  }
}

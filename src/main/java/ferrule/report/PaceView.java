package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Course;
import ferrule.competency.Gap;
import ferrule.competency.Opening;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

/** A cohort's pace as the page shows it. */
final class PaceView {

  private static final DateTimeFormatter SHORT = DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH);
  private static final int WIDTH = 200;

  private final PaceReport pace;
  private final ZoneId zone;
  private final LocalDate horizon;

  PaceView(PaceReport pace, ZoneId zone) {
    this.pace = pace;
    this.zone = zone;
    this.horizon = horizon(pace);
  }

  /**
   * An apprentice.
   *
   * @param behind titles of what should be complete and is not
   * @param since words about work signed last, where that is long ago; may be empty
   * @param rate and {@code needed} steps in a week; may be empty
   * @param dates when they may be done, in words; may be empty
   * @param range of those dates as a drawing, where there are any
   */
  record Line(
      UUID id,
      String name,
      long complete,
      int of,
      int due,
      List<String> behind,
      String since,
      int done,
      int left,
      String rate,
      String needed,
      String likely,
      String between,
      Optional<Range> range,
      String chance,
      String state,
      String word,
      Optional<Help> help) {}

  /** What helps most. */
  record Help(String competency, String title, List<String> missing, List<String> opens, boolean behind) {}

  /**
   * An interval on a line from today to the horizon, {@value #WIDTH} wide.
   *
   * @param open whether it goes on beyond the line
   * @param end where the programme ends; negative if that is past
   */
  record Range(int from, int middle, int to, boolean open, int end) {

    /** Whether the middle lies on the line. */
    public boolean middleSeen() {
      return middle <= WIDTH;
    }
  }

  /** A competency that others wait for. */
  record BottleneckLine(String competency, String title, long lacking, long ready, long waiting, List<String> opens) {}

  /** How many have a prospect. */
  record Tally(String word, String state, long apprentices) {}

  private static LocalDate horizon(PaceReport pace) {
    LocalDate day = pace.report().asOf().day();
    LocalDate end = pace.report().cohort().endsOn();
    long ahead = Math.max(90, ChronoUnit.DAYS.between(day, end));
    return day.plusDays(ahead + ahead / 3);
  }

  List<Line> lines() {
    return pace.lines().stream().map(this::line).toList();
  }

  List<Tally> tallies() {
    return List.of(PaceReport.Prospect.values()).stream()
        .map(p -> new Tally(p.word(), p.state(), pace.with(p)))
        .filter(t -> t.apprentices() > 0)
        .toList();
  }

  List<BottleneckLine> bottlenecks() {
    return pace.bottlenecks().stream()
        .map(b -> new BottleneckLine(
            b.competency().id(), b.competency().title(), b.lacking(), b.ready(), b.waiting(), titles(b.opens())))
        .toList();
  }

  String horizonInWords() {
    return SHORT.format(horizon);
  }

  private Line line(PaceReport.Line line) {
    Course course = line.course();
    Optional<Course.Projection> projection = course.projection();
    return new Line(
        line.row().apprentice().id(), line.row().apprentice().fullName(), line.row().progress().complete(),
        pace.report().programme().competencies().size(), line.due().size(), titles(line.behind()),
        line.stuck() ? since(line.row().progress().lastWork()) : "", course.done(), course.left(),
        number(course.perWeek()), number(course.neededPerWeek(pace.report().cohort().endsOn())),
        projection.map(p -> SHORT.format(p.middle())).orElse(""), projection.map(PaceView::between).orElse(""),
        projection.map(this::range), percent(line.chance()), line.prospect().state(), line.prospect().word(),
        line.helpsMost().map(o -> help(line, o)));
  }

  private String since(Optional<Instant> last) {
    return last.map(at -> "no work signed since " + AsOf.inWords(LocalDate.ofInstant(at, zone)))
        .orElse("no work signed yet");
  }

  private static String between(Course.Projection p) {
    return p.latest().map(l -> SHORT.format(p.earliest()) + " to " + SHORT.format(l))
        .orElse("from " + SHORT.format(p.earliest()) + " on");
  }

  private Range range(Course.Projection p) {
    LocalDate end = pace.report().cohort().endsOn();
    int to = p.latest().map(this::place).orElse(Integer.MAX_VALUE);
    boolean ahead = end.isAfter(pace.report().asOf().day());
    return new Range(
        Math.min(WIDTH, place(p.earliest())), place(p.middle()), Math.min(WIDTH, to), to > WIDTH, ahead ? place(end) : -1);
  }

  private int place(LocalDate date) {
    LocalDate day = pace.report().asOf().day();
    double share = (double) ChronoUnit.DAYS.between(day, date) / ChronoUnit.DAYS.between(day, horizon);
    return (int) Math.round(Math.min(share, 100) * WIDTH);
  }

  private static Help help(PaceReport.Line line, Opening opening) {
    Competency c = opening.competency();
    return new Help(
        c.id(), c.title(), line.row().progress().of(c.id()).missing().stream().map(Gap::inWords).toList(),
        titles(opening.opens()), opening.behind());
  }

  private static List<String> titles(List<Competency> competencies) {
    return competencies.stream().map(Competency::title).toList();
  }

  private static String number(OptionalDouble number) {
    return number.isPresent() ? String.format(Locale.ENGLISH, "%.1f", number.getAsDouble()) : "";
  }

  /** A chance in hundredths; never 0 or 100 where it is neither. */
  private static String percent(OptionalDouble chance) {
    if (chance.isEmpty()) {
      return "";
    }
    long percent = Math.round(100 * chance.getAsDouble());
    return percent == 0 ? "under 1 %" : percent == 100 ? "over 99 %" : percent + " %";
  }
}

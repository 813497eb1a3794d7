package ferrule.report;

import ferrule.competency.Competencies;
import ferrule.competency.Competency;
import ferrule.competency.Course;
import ferrule.competency.Opening;
import ferrule.competency.Pace;
import ferrule.competency.Prerequisites;
import ferrule.competency.Progress;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * A cohort against its plan: who is behind it, when each is likely to be done at their own rate, who is at risk, and what
 * would help most. Only those are in it who are there.
 *
 * @param report the cohort by competency
 * @param lines one for each apprentice, those most at risk first
 * @param bottlenecks the competencies that others wait for, those that most wait for first
 */
public record PaceReport(CohortReport report, List<Line> lines, List<Bottleneck> bottlenecks) {

  /** From this chance on somebody is on course: our own limit, no source. */
  public static final double LIKELY = 0.8;
  /** Below this chance somebody is at risk: our own limit, no source. */
  public static final double EVEN = 0.5;

  /** How somebody is likely to stand at the end of the programme, the worst first. */
  public enum Prospect {
    /** More likely than not they will not be done at the end of the programme. */
    AT_RISK("at risk", "bad"),
    /** They may be done or not. */
    MAY_BE_LATE("may be late", "open"),
    /** Too little was done to tell. */
    TOO_EARLY("too early to tell", "idle"),
    /** They are likely to be done in time. */
    ON_COURSE("on course", "good"),
    /** They are done. */
    DONE("complete", "good");

    private final String word;
    private final String state;

    Prospect(String word, String state) {
      this.word = word;
      this.state = state;
    }

    /** The word for it. */
    public String word() {
      return word;
    }

    /** The sort of tag that shows it. */
    public String state() {
      return state;
    }

    static Prospect of(Course course, OptionalDouble chance) {
      if (course.left() == 0) {
        return DONE;
      }
      if (chance.isEmpty()) {
        return TOO_EARLY;
      }
      return chance.getAsDouble() < EVEN ? AT_RISK : chance.getAsDouble() < LIKELY ? MAY_BE_LATE : ON_COURSE;
    }
  }

  /**
   * An apprentice against the plan.
   *
   * @param row who, and how they stand
   * @param due competencies that should be complete by now
   * @param behind those of them that are not
   * @param course how far they have come, in steps
   * @param chance that they are done at the end of the programme; empty if too little was done to tell
   * @param openings what they can complete next, what helps most first
   * @param stuck whether no work of theirs was signed for {@link Outlook#STILL}, and they are not done
   */
  public record Line(
      CohortReport.Row row,
      List<Competency> due,
      List<Competency> behind,
      Course course,
      OptionalDouble chance,
      List<Opening> openings,
      boolean stuck) {

    /** How they are likely to stand at the end. */
    public Prospect prospect() {
      return Prospect.of(course, chance);
    }

    /** What would help most; empty if they are done. */
    public Optional<Opening> helpsMost() {
      return openings.stream().findFirst();
    }
  }

  /**
   * A competency that others wait for.
   *
   * @param competency which
   * @param lacking how many apprentices lack it
   * @param ready how many of them lack nothing that must come before it
   * @param waiting how many competencies wait for it, over all apprentices
   * @param opens which those are, in the order of the programme
   */
  public record Bottleneck(Competency competency, long lacking, long ready, long waiting, List<Competency> opens) {

    /** Copies the list. */
    public Bottleneck {
      opens = List.copyOf(opens);
    }
  }

  private static final Comparator<Line> MOST_AT_RISK_FIRST =
      Comparator.comparing(Line::prospect)
          .thenComparingDouble(line -> line.chance().orElse(0))
          .thenComparing(line -> -line.behind().size());

  /** Copies the lists. */
  public PaceReport {
    lines = List.copyOf(lines);
    bottlenecks = List.copyOf(bottlenecks);
  }

  /** The pace of a cohort as it stands in this report. */
  public static PaceReport of(CohortReport report, Competencies competencies) {
    List<CohortReport.Row> there = report.rows().stream().filter(row -> !report.hasLeft(row)).toList();
    List<Line> lines = there.stream().map(row -> line(report, row, competencies)).sorted(MOST_AT_RISK_FIRST).toList();
    return new PaceReport(report, lines, bottlenecks(report, there));
  }

  private static Line line(CohortReport report, CohortReport.Row row, Competencies competencies) {
    LocalDate day = report.asOf().day();
    Pace pace = Pace.of(report.cohort());
    Progress progress = row.progress();
    LocalDate joined = row.member().joinedOn();
    LocalDate since = joined.isAfter(report.cohort().startsOn()) ? joined : report.cohort().startsOn();
    Course course = competencies.course(progress, since, day);
    List<Competency> due =
        report.programme().competencies().stream().filter(c -> pace.due(c).filter(day::isAfter).isPresent()).toList();
    List<Competency> behind = due.stream().filter(c -> !progress.of(c.id()).isMet()).toList();
    Instant still = report.asOf().instant().minus(Outlook.STILL);
    boolean stuck = course.left() > 0 && progress.lastWork().filter(still::isBefore).isEmpty();
    return new Line(
        row, due, behind, course, course.chanceBy(report.cohort().endsOn()),
        Opening.of(progress, Optional.of(pace), day), stuck);
  }

  private static List<Bottleneck> bottlenecks(CohortReport report, List<CohortReport.Row> rows) {
    Prerequisites prerequisites = Prerequisites.of(report.programme());
    Map<String, long[]> counts = new LinkedHashMap<>();
    Map<String, Set<String>> opens = new LinkedHashMap<>();
    for (CohortReport.Row row : rows) {
      Set<String> complete = row.progress().completed();
      Map<String, Set<String>> missing = prerequisites.missing(complete);
      prerequisites.waiting(complete).forEach((id, waiting) -> {
        long[] count = counts.computeIfAbsent(id, c -> new long[3]);
        count[0]++;
        count[1] += missing.get(id).isEmpty() ? 1 : 0;
        count[2] += waiting.size();
        opens.computeIfAbsent(id, c -> new HashSet<>()).addAll(waiting);
      });
    }
    List<Bottleneck> found = new ArrayList<>();
    for (Competency c : report.programme().competencies()) {
      long[] count = counts.getOrDefault(c.id(), new long[3]);
      if (count[2] > 0) {
        List<Competency> later =
            report.programme().competencies().stream().filter(d -> opens.get(c.id()).contains(d.id())).toList();
        found.add(new Bottleneck(c, count[0], count[1], count[2], later));
      }
    }
    found.sort(Comparator.comparingLong(Bottleneck::waiting).reversed());
    return found;
  }

  /** How many apprentices have this prospect. */
  public long with(Prospect prospect) {
    return lines.stream().filter(line -> line.prospect() == prospect).count();
  }
}

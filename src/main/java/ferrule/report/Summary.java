package ferrule.report;

import ferrule.competency.Area;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Pace;
import ferrule.competency.Programme;
import ferrule.competency.State;
import ferrule.people.Cohort;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * The whole programme at one moment, counted by cohort and by competency.
 *
 * @param asOf the moment
 * @param cohorts one for each cohort, the latest first
 * @param competencies one for each competency of any edition that a cohort is on, in the order of today's edition; then
 *     those that only others have
 */
public record Summary(AsOf asOf, List<CohortLine> cohorts, List<CompetencyLine> competencies) {

  /**
   * What is counted over apprentices and competencies together.
   *
   * @param of how many there are: each apprentice with each competency
   * @param complete of these, complete
   * @param behind not complete and planned to be by now
   * @param lapsed was complete and has to be shown again
   * @param lapsing complete, and will not be in {@link Outlook#AHEAD} if nothing is done
   */
  public record Counts(long of, long complete, long behind, long lapsed, long lapsing) {

    static final Counts NONE = new Counts(0, 0, 0, 0, 0);

    Counts plus(Counts o) {
      return new Counts(
          of + o.of, complete + o.complete, behind + o.behind, lapsed + o.lapsed, lapsing + o.lapsing);
    }

    /** The share that is complete, from 0 to 1; empty of nothing. */
    public Optional<Double> share() {
      return of == 0 ? Optional.empty() : Optional.of((double) complete / of);
    }

    /** The share that is complete in whole hundredths, rounded down. */
    public int percent() {
      return of == 0 ? 0 : (int) (100 * complete / of);
    }
  }

  /**
   * A cohort.
   *
   * @param edition of the programme that it is on
   * @param apprentices how many are there
   * @param finished how many of them have every competency complete
   * @param behindPlan how many of them lack one that they should have by now
   * @param counts over its apprentices and competencies
   */
  public record CohortLine(
      Cohort cohort, String edition, int apprentices, int finished, int behindPlan, Counts counts) {}

  /**
   * A competency.
   *
   * @param area the title of its area
   * @param counts over the apprentices of every cohort whose edition has it
   */
  public record CompetencyLine(String id, String title, String area, Counts counts) {}

  /** Copies the lists. */
  public Summary {
    cohorts = List.copyOf(cohorts);
    competencies = List.copyOf(competencies);
  }

  /**
   * The summary of an overview.
   *
   * @param today today's edition, which orders the competencies
   */
  public static Summary of(Overview overview, Programme today) {
    Map<String, CompetencyLine> lines = new LinkedHashMap<>();
    add(lines, today);
    overview.cohorts().forEach(c -> add(lines, c.programme()));
    List<CohortLine> cohorts = new ArrayList<>();
    for (Overview.OfCohort cohort : overview.cohorts()) {
      Map<String, Counts> byCompetency = counts(cohort, overview.asOf());
      byCompetency.forEach((id, counts) -> lines.computeIfPresent(
          id, (same, line) -> new CompetencyLine(id, line.title(), line.area(), line.counts().plus(counts))));
      cohorts.add(line(cohort, overview.asOf(), byCompetency));
    }
    lines.values().removeIf(line -> line.counts().of() == 0 && today.find(line.id()).isEmpty());
    return new Summary(overview.asOf(), cohorts, List.copyOf(lines.values()));
  }

  private static void add(Map<String, CompetencyLine> lines, Programme programme) {
    for (Area area : programme.areas()) {
      for (Competency c : area.competencies()) {
        lines.putIfAbsent(c.id(), new CompetencyLine(c.id(), c.title(), area.title(), Counts.NONE));
      }
    }
  }

  /** The counts of each competency of a cohort's edition, by id and in its order. */
  static Map<String, Counts> counts(Overview.OfCohort cohort, AsOf asOf) {
    Map<String, Counts> counts = new LinkedHashMap<>();
    List<Competency> competencies = cohort.programme().competencies();
    int[] complete = new int[competencies.size()];
    int[] lapsed = new int[competencies.size()];
    int[] lapsing = new int[competencies.size()];
    for (Overview.Row row : cohort.rows()) {
      for (int i = 0; i < complete.length; i++) {
        State state = row.states().state(i);
        complete[i] += state == State.COMPLETE ? 1 : 0;
        lapsed[i] += state == State.LAPSED ? 1 : 0;
        lapsing[i] += row.states().isLapsing(i) ? 1 : 0;
      }
    }
    int all = cohort.rows().size();
    for (int i = 0; i < complete.length; i++) {
      long behind = isDue(cohort, competencies.get(i), asOf) ? all - complete[i] : 0;
      counts.put(competencies.get(i).id(), new Counts(all, complete[i], behind, lapsed[i], lapsing[i]));
    }
    return counts;
  }

  private static boolean isDue(Overview.OfCohort cohort, Competency competency, AsOf asOf) {
    return Pace.of(cohort.cohort()).due(competency).filter(asOf.day()::isAfter).isPresent();
  }

  private static CohortLine line(Overview.OfCohort cohort, AsOf asOf, Map<String, Counts> counts) {
    List<Competency> competencies = cohort.programme().competencies();
    int[] due = IntStream.range(0, competencies.size())
        .filter(i -> isDue(cohort, competencies.get(i), asOf)).toArray();
    int finished = 0;
    int behindPlan = 0;
    for (Overview.Row row : cohort.rows()) {
      finished += row.states().complete() == competencies.size() ? 1 : 0;
      for (int i : due) {
        if (row.states().state(i) != State.COMPLETE) {
          behindPlan++;
          break;
        }
      }
    }
    return new CohortLine(
        cohort.cohort(), cohort.programme().edition(), cohort.rows().size(), finished, behindPlan,
        counts.values().stream().reduce(Counts.NONE, Counts::plus));
  }

  /** How many apprentices are there, those in several cohorts in each. */
  public int apprentices() {
    return cohorts.stream().mapToInt(CohortLine::apprentices).sum();
  }

  /** How many of them have every competency complete. */
  public int finished() {
    return cohorts.stream().mapToInt(CohortLine::finished).sum();
  }

  /** How many of them lack a competency that they should have by now. */
  public int behindPlan() {
    return cohorts.stream().mapToInt(CohortLine::behindPlan).sum();
  }

  /** The counts over everyone and everything. */
  public Counts counts() {
    return cohorts.stream().map(CohortLine::counts).reduce(Counts.NONE, Counts::plus);
  }

  /** A competency in one cohort. */
  public record InCohort(Cohort cohort, Counts counts) {}

  /** A competency in each cohort whose edition has it, the latest cohort first. */
  static List<InCohort> inCohorts(Overview overview, String competency) {
    return overview.cohorts().stream()
        .filter(c -> c.programme().find(competency).isPresent())
        .map(c -> new InCohort(c.cohort(), counts(c, overview.asOf()).get(competency)))
        .toList();
  }
}

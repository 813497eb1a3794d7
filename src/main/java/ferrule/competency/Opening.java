package ferrule.competency;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A competency that somebody can complete next, and what that opens.
 *
 * @param competency which
 * @param opens those that wait for it, in the order of the programme
 * @param steps how much of it is missing
 * @param behind whether it should be complete by the plan
 */
public record Opening(Competency competency, List<Competency> opens, int steps, boolean behind) {

  private static final Comparator<Opening> MOST_HELP_FIRST =
      Comparator.<Opening>comparingInt(o -> -o.opens().size())
          .thenComparing(o -> !o.behind())
          .thenComparingInt(Opening::steps);

  /** Copies the list. */
  public Opening {
    opens = List.copyOf(opens);
  }

  /**
   * What helps somebody most: those of what they lack that wait for nothing else. First what opens most others; of those
   * that open equally many, what is behind the plan, then what takes fewest steps, then the order of the programme.
   *
   * @param pace of their cohort, if they are in one
   * @param day of the look
   */
  public static List<Opening> of(Progress progress, Optional<Pace> pace, LocalDate day) {
    Programme programme = progress.programme();
    Prerequisites prerequisites = Prerequisites.of(programme);
    Set<String> complete = progress.completed();
    Map<String, Set<String>> missing = prerequisites.missing(complete);
    Map<String, Set<String>> waiting = prerequisites.waiting(complete);
    List<Opening> openings = new ArrayList<>();
    for (Competency c : programme.competencies()) {
      if (!complete.contains(c.id()) && missing.get(c.id()).isEmpty()) {
        List<Competency> opens =
            programme.competencies().stream().filter(d -> waiting.get(c.id()).contains(d.id())).toList();
        Verdict verdict = progress.of(c.id());
        boolean behind = pace.filter(p -> p.isBehind(c, verdict, day)).isPresent();
        openings.add(new Opening(c, opens, verdict.cost(), behind));
      }
    }
    openings.sort(MOST_HELP_FIRST);
    return openings;
  }
}

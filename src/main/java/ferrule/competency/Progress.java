package ferrule.competency;

import java.time.Instant;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * How one apprentice stood at one moment: the verdict on every competency of a programme.
 *
 * @param asOf the moment
 * @param programme the edition that they are judged by
 * @param verdicts by competency id, in the order of the programme
 * @param lastWork when work of theirs was signed last, whatever came of it
 */
public record Progress(
    Instant asOf, Programme programme, Map<String, Verdict> verdicts, Optional<Instant> lastWork) {

  static Progress of(Programme programme, Evidence evidence, Instant asOf) {
    return new Progress(asOf, programme, Evaluation.of(programme, evidence), evidence.lastWork());
  }

  /** The verdict on a competency; throws {@link IllegalArgumentException} if the programme has none of this id. */
  public Verdict of(String competency) {
    Verdict verdict = verdicts.get(competency);
    if (verdict == null) {
      throw new IllegalArgumentException("the programme has no competency " + competency);
    }
    return verdict;
  }

  /** The ids of the competencies that are complete. */
  public Set<String> completed() {
    Set<String> complete = new LinkedHashSet<>();
    verdicts.forEach((id, verdict) -> {
      if (verdict.isMet()) {
        complete.add(id);
      }
    });
    return complete;
  }

  /**
   * How many steps are left in all, in the measure of {@link Verdict#cost}: what serves for several competencies counts
   * once. Where rules leave a choice it is that of the shortest list of each competency by itself, so that another choice
   * might share more.
   */
  public int stepsLeft() {
    return Way.costOf(verdicts.values().stream().flatMap(v -> v.missing().stream()).toList());
  }

  /** How many competencies are complete. */
  public long complete() {
    return verdicts.values().stream().filter(Verdict::isMet).count();
  }
}

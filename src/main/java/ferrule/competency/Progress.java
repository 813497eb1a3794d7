package ferrule.competency;

import java.time.Instant;
import java.util.Map;

/**
 * How one apprentice stood at one moment: the verdict on every competency of a programme.
 *
 * @param asOf the moment
 * @param programme the edition that they are judged by
 * @param verdicts by competency id, in the order of the programme
 */
public record Progress(Instant asOf, Programme programme, Map<String, Verdict> verdicts) {

  static Progress of(Programme programme, Evidence evidence, Instant asOf) {
    return new Progress(asOf, programme, Evaluation.of(programme, evidence));
  }

  /** The verdict on a competency; throws {@link IllegalArgumentException} if the programme has none of this id. */
  public Verdict of(String competency) {
    Verdict verdict = verdicts.get(competency);
    if (verdict == null) {
      throw new IllegalArgumentException("the programme has no competency " + competency);
    }
    return verdict;
  }

  /** How many competencies are complete. */
  public long complete() {
    return verdicts.values().stream().filter(Verdict::isMet).count();
  }
}

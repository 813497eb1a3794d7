package ferrule.competency;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * How one apprentice stood at one moment: the verdict on every competency of the programme.
 *
 * @param asOf the moment
 * @param verdicts by competency id, in the order of the programme
 */
public record Progress(Instant asOf, Map<String, Verdict> verdicts) {

  static Progress of(Programme programme, Evidence evidence, Instant asOf) {
    Map<String, Verdict> verdicts = new LinkedHashMap<>();
    programme.competencies().forEach(c -> verdicts.put(c.id(), Evaluation.of(c.requires(), evidence)));
    return new Progress(asOf, verdicts);
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

package ferrule.bench;

import java.util.ArrayList;
import java.util.List;

/**
 * How the work stands, and why.
 *
 * @param standing of the work as a whole
 * @param reasons in sentences without a full stop: what keeps it from the standard, or what it rests on
 */
public record Outcome(Standing standing, List<String> reasons) {

  /** Copies the reasons and checks that there is one. */
  public Outcome {
    reasons = List.copyOf(reasons);
    if (reasons.isEmpty()) {
      throw new IllegalArgumentException("an outcome gives its reasons");
    }
  }

  /**
   * The outcome of these findings. The work meets the standard if every critical criterion passes and the weights of
   * all that pass make up at least the given share of the whole; it is fine if moreover no criterion could be better.
   *
   * @param passPercent the share, 1 to 100
   */
  public static Outcome of(List<Finding> findings, int passPercent) {
    int whole = findings.stream().mapToInt(Finding::weight).sum();
    int passed = findings.stream().filter(Finding::passes).mapToInt(Finding::weight).sum();
    List<String> against = new ArrayList<>();
    findings.stream()
        .filter(f -> f.critical() && !f.passes())
        .forEach(f -> against.add(f.title() + " is critical and does not pass: " + f.sentence()));
    // whole numbers: a share that is met exactly is met
    if (passed * 100 < passPercent * whole) {
      against.add(
          "criteria worth " + passed + " of " + whole + " pass; the task asks for " + passPercent + " % of them");
      findings.stream()
          .filter(f -> !f.critical() && !f.passes())
          .forEach(f -> against.add(f.title() + " does not pass: " + f.sentence()));
    }
    if (!against.isEmpty()) {
      return new Outcome(Standing.NOT_YET, against);
    }
    if (findings.stream().allMatch(Finding::isBest)) {
      return new Outcome(Standing.FINE, List.of("every criterion passes, and none could be better"));
    }
    String rest = passed == whole ? "every criterion passes"
        : "every critical criterion passes, and criteria worth " + passed + " of " + whole;
    return new Outcome(Standing.SOUND, List.of(rest));
  }
}

package ferrule.bench;

import java.math.BigDecimal;
import java.util.Optional;

/**
 * The limits that a measured quantity keeps, in the criterion's unit: a lower one, an upper one, or both.
 *
 * @param lower the smallest value allowed
 * @param upper the largest value allowed
 * @param source who set them, such as "set by the instructor"
 */
public record Limits(Optional<BigDecimal> lower, Optional<BigDecimal> upper, String source) {

  /** The source of limits for which nothing is published. */
  public static final String BY_INSTRUCTOR = "set by the instructor";

  /** Checks that there is a limit, that the two are in order, and that they have a source. */
  public Limits {
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("give a lower limit, an upper limit, or both");
    }
    if (lower.isPresent() && upper.isPresent() && lower.get().compareTo(upper.get()) >= 0) {
      throw new IllegalArgumentException(
          "the lower limit is below the upper one; given: " + lower.get() + " and " + upper.get());
    }
    if (source.isBlank()) {
      throw new IllegalArgumentException("limits say who set them");
    }
  }

  /** Whether a value lies within them or on one of them. */
  public boolean contain(BigDecimal value) {
    return lower.map(l -> value.compareTo(l) >= 0).orElse(true) && upper.map(u -> value.compareTo(u) <= 0).orElse(true);
  }

  /** The limits in words, such as "0.5 to 1.5 mm" or "at most 0.2 mm". */
  public String inWords(Unit unit) {
    if (lower.isPresent() && upper.isPresent()) {
      return lower.get().toPlainString() + " to " + upper.get().toPlainString() + " " + unit.symbol();
    }
    return lower.map(l -> "at least " + l.toPlainString()).orElseGet(() -> "at most " + upper.get().toPlainString())
        + " " + unit.symbol();
  }
}

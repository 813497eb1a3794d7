package ferrule.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Optional;

/**
 * How a reading is judged against limits when the reading itself is in doubt: guarded acceptance and guarded rejection
 * (JCGM 106:2012, 8.3). A guard band w = r U, where U is the expanded uncertainty of the reading, is laid to both sides
 * of each limit. A reading inside the limits by at least w conforms; one outside by more than w does not; between the
 * two, the rule does not decide. With r = 1 this is the default rule of ISO 14253-1 for proving conformity and
 * nonconformity (from memory): a reading at the edge of the guard band is accepted wrongly with a chance of 2.3 %, and
 * {@link Conformance} tells the chance of any reading.
 *
 * @param multiple r, from 0 (the limits alone decide, 8.2) upward; usually 1
 */
public record DecisionRule(BigDecimal multiple) {

  /** Checks the sign. */
  public DecisionRule {
    if (multiple.signum() < 0) {
      throw new IllegalArgumentException("a guard band is not negative; given: " + multiple);
    }
  }

  /** The verdict on a value, all in one unit. */
  public Conformity judge(BigDecimal value, Limits limits, BigDecimal expandedUncertainty) {
    BigDecimal guard = multiple.multiply(expandedUncertainty);
    Optional<BigDecimal> aboveLower = limits.lower().map(value::subtract);
    Optional<BigDecimal> belowUpper = limits.upper().map(upper -> upper.subtract(value));
    // how far the value lies inside the limits; negative outside
    BigDecimal inside =
        aboveLower.isEmpty() ? belowUpper.orElseThrow() : aboveLower.get().min(belowUpper.orElse(aboveLower.get()));
    if (inside.compareTo(guard) >= 0) {
      return Conformity.CONFORMING;
    }
    return inside.compareTo(guard.negate()) < 0 ? Conformity.NOT_CONFORMING : Conformity.UNDECIDED;
  }

  /** Whether there is a value that conforms at all: two guard bands may fill the whole room between two limits. */
  public boolean canAccept(Limits limits, BigDecimal expandedUncertainty) {
    BigDecimal bands = multiple.multiply(expandedUncertainty).multiply(BigDecimal.valueOf(2));
    return limits.lower().isEmpty() || limits.upper().isEmpty()
        || limits.upper().get().subtract(limits.lower().get()).compareTo(bands) >= 0;
  }

  /** The rule in words, for readings of this expanded uncertainty: how near to a limit a reading decides nothing. */
  public String inWords(BigDecimal expandedUncertainty, Unit unit) {
    if (multiple.signum() == 0) {
      return "the limits alone decide";
    }
    BigDecimal guard = multiple.multiply(expandedUncertainty).round(new MathContext(2));
    return "a reading within " + guard.stripTrailingZeros().toPlainString() + " " + unit.symbol()
        + " of a limit decides nothing";
  }
}

package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;

/**
 * A quantity that is measured at the bench and between which limits it must lie, as far as a drill needs to know. The
 * tasks of the bench have them; because the bench stands above the drills, they are handed down in this form. The
 * figures of procedures are sentences, not numbers, and could not be checked.
 *
 * @param id tells it from others
 * @param work what the work is called
 * @param quantity what is measured
 * @param unit of limits and readings, such as "mm"
 * @param lower the least that is within tolerance, if there is a least
 * @param upper the most that is within tolerance, if there is a most
 * @param source of the limits
 * @param uncertainty of the gauge (expanded), in the unit: closer to a limit than that a reading decides nothing
 * @param parts that the work is on
 */
public record Tolerance(
    String id,
    String work,
    String quantity,
    String unit,
    Optional<BigDecimal> lower,
    Optional<BigDecimal> upper,
    String source,
    BigDecimal uncertainty,
    List<ConceptId> parts) {

  /** Copies the list and checks that there is a limit, and that the limits are in order. */
  public Tolerance {
    parts = List.copyOf(parts);
    if (lower.isEmpty() && upper.isEmpty()) {
      throw new IllegalArgumentException("a tolerance has a limit; " + id + " has none");
    }
    if (lower.isPresent() && upper.isPresent() && lower.get().compareTo(upper.get()) >= 0) {
      throw new IllegalArgumentException("the lower limit of " + id + " is not below the upper");
    }
  }

  /** The limits in words, such as "from 0.0005 in to 0.0015 in". */
  String limits() {
    String low = lower.map(l -> l.toPlainString() + " " + unit).orElse("");
    String high = upper.map(u -> u.toPlainString() + " " + unit).orElse("");
    if (low.isEmpty()) {
      return "at most " + high;
    }
    return high.isEmpty() ? "at least " + low : "from " + low + " to " + high;
  }
}

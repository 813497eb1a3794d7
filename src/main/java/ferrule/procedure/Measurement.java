package ferrule.procedure;

import java.util.Optional;

/**
 * A point to measure in a step.
 *
 * @param what the quantity, such as "gap between flange and tube"
 * @param unit such as "mm"
 * @param limit what it should be, with its source; without one the supervising instructor sets it for the instrument
 */
public record Measurement(String what, String unit, Optional<Figure> limit) {

  /** Checks that no text is blank. */
  public Measurement {
    if (what.isBlank() || unit.isBlank()) {
      throw new IllegalArgumentException("a point to measure has a quantity and a unit; given: " + what);
    }
  }
}

package ferrule.drill.known;

/**
 * How likely something is, and between which bounds that likelihood itself lies in eight of ten cases.
 *
 * @param likely the chance, from 0 to 1
 * @param low the lower bound, at most {@code likely} up to rounding
 * @param high the upper bound
 */
public record Chance(double likely, double low, double high) {

  /** It does not happen, for certain. */
  static final Chance NONE = new Chance(0, 0, 0);

  /** Checks the ranges. */
  public Chance {
    if (!(0 <= low && low <= high && high <= 1 && 0 <= likely && likely <= 1)) {
      throw new IllegalArgumentException(
          "chances are from 0 to 1 in order; given: " + low + ", " + likely + ", " + high);
    }
  }

  /** Whether the bounds lie so far apart that the chance says little: more than half of the whole range. */
  public boolean isUnsure() {
    return high - low > 0.5;
  }
}

package ferrule.drill.known;

/**
 * What is believed about one quantity: a normal distribution. Quantities of this package are natural logarithms of
 * days, or differences of them, so that one unit is a factor of e.
 *
 * @param mean the expected value
 * @param variance the variance, above 0
 */
public record Belief(double mean, double variance) {

  /** Checks that both are finite and the variance is above 0. */
  public Belief {
    if (!Double.isFinite(mean) || !Double.isFinite(variance) || variance <= 0) {
      throw new IllegalArgumentException(
          "a belief has a finite mean and a variance above 0; given: " + mean + ", " + variance);
    }
  }

  /** The belief with this mean and standard deviation. */
  public static Belief of(double mean, double deviation) {
    return new Belief(mean, deviation * deviation);
  }

  /** The standard deviation. */
  public double deviation() {
    return Math.sqrt(variance);
  }

  /** The sum of this quantity and an independent one. */
  public Belief plus(Belief other) {
    return new Belief(mean + other.mean, variance + other.variance);
  }

  /** This quantity less an independent one. */
  public Belief minus(Belief other) {
    return new Belief(mean - other.mean, variance + other.variance);
  }
}

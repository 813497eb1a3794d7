package ferrule.bench;

import java.math.BigDecimal;

/**
 * How likely it is that the true value lies within its limits, given a reading and how uncertain it is.
 *
 * <p>The knowledge about the true value is taken as a normal distribution around the reading y, whose standard
 * uncertainty u is half the expanded one (coverage factor 2); nothing is supposed to be known beforehand. Then the
 * conformance probability is {@code F((U - y) / u) - F((L - y) / u)}, where F is the standard normal distribution and a
 * missing limit counts as infinitely far away (JCGM 106:2012, 7.2 to 7.4). Accepting the reading is wrong with one less
 * that probability.
 */
public final class Conformance {

  private static final double COVERAGE_FACTOR = 2;
  private static final double FAR = 8; // standard uncertainties beyond which the rest is below 1e-15

  private Conformance() {}

  /**
   * The probability that the true value lies within the limits, 0 to 1, all in one unit.
   *
   * @param expandedUncertainty of the reading, coverage factor 2; above zero
   */
  public static double probability(BigDecimal reading, Limits limits, BigDecimal expandedUncertainty) {
    double u = expandedUncertainty.doubleValue() / COVERAGE_FACTOR;
    double below = limits.upper().map(limit -> normal(limit.subtract(reading).doubleValue() / u)).orElse(1.0);
    double under = limits.lower().map(limit -> normal(limit.subtract(reading).doubleValue() / u)).orElse(0.0);
    return Math.max(0, below - under);
  }

  /**
   * The standard normal distribution function, to about 1e-15: the sum of x^(2k+1) / (1 x 3 x ... x (2k+1)) times the
   * density, from one half (G. Marsaglia, Evaluating the Normal Distribution, Journal of Statistical Software 11(4),
   * 2004; from memory).
   */
  static double normal(double x) {
    if (Math.abs(x) > FAR) {
      return x > 0 ? 1 : 0;
    }
    double term = x;
    double sum = x;
    for (int odd = 3; Math.abs(term) > 1e-18 * Math.abs(sum); odd += 2) {
      term *= x * x / odd;
      sum += term;
    }
    return 0.5 + sum * Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI);
  }
}

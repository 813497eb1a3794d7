package ferrule.report.agreement;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.interval.BinomialProportion;

/**
 * A figure from a sample, with the interval that holds the true one in 95 of 100 samples.
 *
 * @param value the figure
 * @param error its standard error, at least 0
 * @param low the lower limit
 * @param high the upper limit
 * @param n how many pieces of work it is from
 */
public record Estimate(double value, double error, double low, double high, int n) {

  private static final double UPPER_TAIL = 0.975;

  /** From a large-sample standard error: the normal interval. */
  static Estimate normal(double value, double error, int n) {
    double half = new NormalDistribution().inverseCumulativeProbability(UPPER_TAIL) * error;
    return new Estimate(value, error, value - half, value + half, n);
  }

  /** From a standard error that was itself found from n pieces of work, at least 2: Student's interval. */
  static Estimate student(double value, double error, int n) {
    double half = new TDistribution(n - 1).inverseCumulativeProbability(UPPER_TAIL) * error;
    return new Estimate(value, error, value - half, value + half, n);
  }

  /**
   * A kappa where all n agree. Its standard error is 0 and would pass for certainty; the lower limit is instead that of
   * the share of agreement (Wilson's interval), put in the place of the observed share.
   *
   * @param expected the share that chance would bring about
   */
  static Estimate full(double expected, int n) {
    double share = BinomialProportion.getWilsonScoreInterval(n, 1.0, 0.95).getLowerBound();
    return new Estimate(1, 0, (share - expected) / (1 - expected), 1, n).within();
  }

  /** The same, with limits that a figure between -1 and 1 can have. */
  Estimate within() {
    return new Estimate(value, error, Math.max(-1, low), Math.min(1, high), n);
  }
}

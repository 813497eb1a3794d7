package ferrule.report.agreement;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.interval.BinomialProportion;
import org.hipparchus.stat.interval.ConfidenceInterval;

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
   * A kappa where all n agree, or all disagree alike. Its standard error is 0 and would pass for certainty; the limits are
   * instead those of the share of agreement (Wilson's interval), put in the place of the observed share.
   *
   * @param observed the share of agreement
   * @param expected the share that chance would bring about
   */
  static Estimate unvaried(double observed, double expected, int n) {
    double share = Math.min(1, Math.max(0, observed));
    ConfidenceInterval limits = BinomialProportion.getWilsonScoreInterval(n, share, 0.95);
    return new Estimate(
        (share - expected) / (1 - expected), 0, (limits.getLowerBound() - expected) / (1 - expected),
        (limits.getUpperBound() - expected) / (1 - expected), n).within();
  }

  /** Whether a standard error of a kappa is none at all but for rounding. */
  static boolean isNone(double error) {
    return error < 1e-6;
  }

  /** The same, with limits that a figure between -1 and 1 can have. */
  Estimate within() {
    return new Estimate(value, error, Math.max(-1, low), Math.min(1, high), n);
  }
}

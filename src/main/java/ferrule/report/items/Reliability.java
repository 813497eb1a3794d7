package ferrule.report.items;

import java.util.Optional;
import java.util.stream.IntStream;
import org.hipparchus.distribution.continuous.FDistribution;
import org.hipparchus.stat.StatUtils;

/**
 * How far the totals of a test can be relied on.
 *
 * @param persons how many persons took it
 * @param items how many items it has
 * @param alpha Cronbach's alpha; where every answer is right or wrong it is Kuder and Richardson's formula 20
 * @param low the lower end of its 95 % interval
 * @param high the upper end
 * @param standardError of measurement, in points: how far a total would vary if the same person took the test anew
 */
public record Reliability(int persons, int items, double alpha, double low, double high, double standardError) {

  /** From fewer persons nothing is concluded: our own convention, no source. */
  public static final int ENOUGH = 20;

  private static final double EACH_SIDE = 0.025;

  /**
   * The reliability of a test that all took whole.
   *
   * <p>alpha = k / (k - 1) (1 - sum of the items' variances / variance of the totals) (L. J. Cronbach, 1951, Psychometrika
   * 16, equation 2). The interval rests on (1 - true alpha) / (1 - alpha) being distributed as F with n - 1 and (n - 1)(k - 1)
   * degrees of freedom (L. S. Feldt, 1965, Psychometrika 30). Standard error: standard deviation of the totals times the
   * square root of 1 - alpha.
   *
   * @return empty if somebody was not asked an item, there are fewer than two persons or items, or all totals are the same
   */
  public static Optional<Reliability> of(Scores scores) {
    int n = scores.persons();
    int k = scores.items();
    if (n < 2 || k < 2 || !scores.isComplete()) {
      return Optional.empty();
    }
    double ofTotals = StatUtils.variance(IntStream.range(0, n).mapToDouble(scores::total).toArray());
    if (ofTotals == 0) {
      return Optional.empty();
    }
    double ofItems = IntStream.range(0, k).mapToDouble(i -> StatUtils.variance(scores.onItem(i))).sum();
    double alpha = k / (k - 1.0) * (1 - ofItems / ofTotals);
    return Optional.of(of(n, k, alpha, Math.sqrt(ofTotals * Math.max(0, 1 - alpha))));
  }

  /** With the interval that follows from these. */
  static Reliability of(int n, int k, double alpha, double standardError) {
    FDistribution f = new FDistribution(n - 1.0, (n - 1.0) * (k - 1.0));
    return new Reliability(
        n, k, alpha, 1 - (1 - alpha) * f.inverseCumulativeProbability(1 - EACH_SIDE),
        1 - (1 - alpha) * f.inverseCumulativeProbability(EACH_SIDE), standardError);
  }
}

package ferrule.drill.known;

import java.util.function.DoubleUnaryOperator;

/**
 * Integrals over a normal distribution: the trapezoid rule at 33 points from -4 to 4 standard deviations, which for
 * smooth functions under a normal density converges faster than any power of the step (L. N. Trefethen, J. A. C.
 * Weideman, The exponentially convergent trapezoidal rule, SIAM Review 56, 2014, 385-458).
 */
final class NormalRule {

  private static final int POINTS = 33;
  private static final double[] PLACE = new double[POINTS];
  private static final double[] WEIGHT = new double[POINTS];

  static {
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      PLACE[i] = -4 + 8.0 * i / (POINTS - 1);
      WEIGHT[i] = Math.exp(-PLACE[i] * PLACE[i] / 2);
      sum += WEIGHT[i];
    }
    for (int i = 0; i < POINTS; i++) {
      WEIGHT[i] /= sum;
    }
  }

  private NormalRule() {}

  /** The expected value of a function. */
  static double mean(Belief of, DoubleUnaryOperator function) {
    double deviation = of.deviation();
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      sum += WEIGHT[i] * function.applyAsDouble(of.mean() + deviation * PLACE[i]);
    }
    return sum;
  }

  /**
   * The normal distribution with the mean and variance of a changed quantity after evidence.
   *
   * @param before what was believed
   * @param evidence the likelihood of what was seen, above 0
   * @param change what becomes of the quantity
   */
  static Belief posterior(Belief before, DoubleUnaryOperator evidence, DoubleUnaryOperator change) {
    double deviation = before.deviation();
    double sum = 0;
    double first = 0;
    double second = 0;
    for (int i = 0; i < POINTS; i++) {
      double x = before.mean() + deviation * PLACE[i];
      double weight = WEIGHT[i] * evidence.applyAsDouble(x);
      double y = change.applyAsDouble(x) - before.mean(); // near the mean, so that the variance keeps its digits
      sum += weight;
      first += weight * y;
      second += weight * y * y;
    }
    double mean = first / sum;
    return new Belief(before.mean() + mean, second / sum - mean * mean);
  }
}

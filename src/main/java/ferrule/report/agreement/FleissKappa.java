package ferrule.report.agreement;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * Fleiss' kappa: how far any number of graders agree beyond what chance would bring about (J. L. Fleiss, Psychological
 * Bulletin 76, 1971, 378-382). Pieces of work may have been graded by different people and by differently many, at least
 * two: each counts the share of its pairs of graders that agree.
 *
 * <p>The interval is Student's, from the jackknife over pieces of work: kappa is worked out anew without each of them.
 */
public final class FleissKappa {

  private FleissKappa() {}

  /**
   * Kappa of counts: for each piece of work, how many graders chose each level.
   *
   * @return empty if every grader always chose the same level, so that chance alone would bring about full agreement
   * @throws IllegalArgumentException if a piece of work has fewer than two graders, or there are fewer than two pieces
   */
  public static Optional<Estimate> of(int[][] counts) {
    if (counts.length < 2 || Arrays.stream(counts).anyMatch(c -> Arrays.stream(c).sum() < 2)) {
      throw new IllegalArgumentException("kappa is of at least two pieces of work, each graded at least twice");
    }
    double kappa = value(counts, -1);
    if (Double.isNaN(kappa)) {
      return Optional.empty();
    }
    int n = counts.length;
    double[] without = new double[n];
    for (int i = 0; i < n; i++) {
      double left = value(counts, i);
      // without it there is no disagreement left that kappa could be of: as if all agreed
      without[i] = Double.isNaN(left) ? 1 : left;
    }
    double mean = Arrays.stream(without).average().orElseThrow();
    double squares = Arrays.stream(without).map(w -> (w - mean) * (w - mean)).sum();
    double error = Math.sqrt((n - 1.0) / n * squares);
    return Optional.of(
        Estimate.isNone(error) ? Estimate.unvaried(agreement(counts), expected(counts), n)
            : Estimate.student(kappa, error, n).within());
  }

  /** The share of pairs of graders that agree, over all pieces of work. */
  public static double agreement(int[][] counts) {
    return Arrays.stream(counts).mapToDouble(FleissKappa::agreement).average().orElseThrow();
  }

  private static double agreement(int[] counts) {
    int graders = Arrays.stream(counts).sum();
    int pairs = Arrays.stream(counts).map(c -> c * (c - 1)).sum();
    return (double) pairs / (graders * (graders - 1));
  }

  private static double expected(int[][] counts) {
    int all = Arrays.stream(counts).flatMapToInt(Arrays::stream).sum();
    double expected = 0;
    for (int level = 0; level < counts[0].length; level++) {
      int of = level;
      double share = (double) Arrays.stream(counts).mapToInt(c -> c[of]).sum() / all;
      expected += share * share;
    }
    return expected;
  }

  private static double value(int[][] counts, int without) {
    int[][] left = IntStream.range(0, counts.length).filter(i -> i != without).mapToObj(i -> counts[i])
        .toArray(int[][]::new);
    double expected = expected(left);
    return 1 - expected < 1e-12 ? Double.NaN : (agreement(left) - expected) / (1 - expected);
  }
}

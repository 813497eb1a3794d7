package ferrule.report.agreement;

import java.util.Arrays;
import java.util.Optional;

/**
 * Cohen's kappa: how far two graders agree beyond what chance would bring about, between -1 and 1.
 *
 * <p>kappa = (po - pe) / (1 - pe), where po is the share of agreement and pe the share that would be expected if both
 * graded independently, each as often high and low as they do (J. Cohen, Educational and Psychological Measurement 20,
 * 1960). Weighted, a disagreement by one level costs less than one by two (J. Cohen, Psychological Bulletin 70, 1968).
 * The interval is from the large-sample variance of J. L. Fleiss, J. Cohen and B. S. Everitt, Psychological Bulletin 72
 * (1969) 323-327, as restated in reference manuals of statistics programs.
 */
public final class CohenKappa {

  /** How much of an agreement two levels are that lie some steps apart. */
  public enum Weights {
    /** Only the same level agrees. */
    PLAIN,
    /** Each step apart costs the same. */
    LINEAR,
    /** Twice as far apart costs four times as much. */
    QUADRATIC;

    double of(int i, int j, int levels) {
      double apart = (double) Math.abs(i - j) / (levels - 1);
      return switch (this) {
        case PLAIN -> i == j ? 1 : 0;
        case LINEAR -> 1 - apart;
        case QUADRATIC -> 1 - apart * apart;
      };
    }
  }

  private CohenKappa() {}

  /**
   * Kappa of a square table that counts pieces of work by the first grader's level (row) and the second's (column).
   *
   * @return empty if chance alone would bring about full agreement, because both always chose the same level
   * @throws IllegalArgumentException if the table is not square, has fewer than two levels or counts nothing
   */
  public static Optional<Estimate> of(int[][] table, Weights weights) {
    int levels = table.length;
    int n = Arrays.stream(table).flatMapToInt(Arrays::stream).sum();
    if (levels < 2 || n < 1 || Arrays.stream(table).anyMatch(row -> row.length != levels)) {
      throw new IllegalArgumentException("kappa is of a square table of at least two levels that counts something");
    }
    double[] rows = new double[levels];
    double[] columns = new double[levels];
    for (int i = 0; i < levels; i++) {
      for (int j = 0; j < levels; j++) {
        rows[i] += (double) table[i][j] / n;
        columns[j] += (double) table[i][j] / n;
      }
    }
    double observed = 0;
    double expected = 0;
    for (int i = 0; i < levels; i++) {
      for (int j = 0; j < levels; j++) {
        observed += weights.of(i, j, levels) * table[i][j] / n;
        expected += weights.of(i, j, levels) * rows[i] * columns[j];
      }
    }
    if (1 - expected < 1e-12) {
      return Optional.empty();
    }
    double kappa = (observed - expected) / (1 - expected);
    double error = Math.sqrt(variance(table, n, rows, columns, observed, expected, weights));
    return Optional.of(
        Estimate.isNone(error) ? Estimate.unvaried(observed, expected, n) : Estimate.normal(kappa, error, n).within());
  }

  private static double variance(
      int[][] table, int n, double[] rows, double[] columns, double observed, double expected, Weights weights) {
    int levels = table.length;
    double[] ofRow = new double[levels];
    double[] ofColumn = new double[levels];
    for (int i = 0; i < levels; i++) {
      for (int j = 0; j < levels; j++) {
        ofRow[i] += weights.of(i, j, levels) * columns[j];
        ofColumn[j] += weights.of(i, j, levels) * rows[i];
      }
    }
    double sum = 0;
    for (int i = 0; i < levels; i++) {
      for (int j = 0; j < levels; j++) {
        double term = weights.of(i, j, levels) * (1 - expected) - (ofRow[i] + ofColumn[j]) * (1 - observed);
        sum += (double) table[i][j] / n * term * term;
      }
    }
    double mean = observed * expected - 2 * expected + observed;
    return Math.max(0, sum - mean * mean) / (n * Math.pow(1 - expected, 4));
  }
}

package ferrule.report.wait;

import java.util.Arrays;
import java.util.Optional;

/**
 * The values below which a quarter, a half and three quarters lie, by straight lines between neighbours: definition 7 of
 * R. J. Hyndman, Y. Fan, Sample quantiles in statistical packages, The American Statistician 50 (1996), 361-365.
 *
 * @param n how many values they are of
 */
public record Quartiles(int n, double lower, double median, double upper) {

  /** The quartiles of these values, in whatever order; empty if there are none. */
  public static Optional<Quartiles> of(double... values) {
    if (values.length == 0) {
      return Optional.empty();
    }
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return Optional.of(new Quartiles(sorted.length, at(sorted, 0.25), at(sorted, 0.5), at(sorted, 0.75)));
  }

  private static double at(double[] sorted, double share) {
    double place = share * (sorted.length - 1);
    int below = (int) Math.floor(place);
    int above = Math.min(sorted.length - 1, below + 1);
    return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
  }
}

package ferrule.report.wait;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * How long something takes when some of it is not over yet: the share that still waits after each time, by the
 * product-limit estimate (E. L. Kaplan, P. Meier, Journal of the American Statistical Association 53, 1958, 457-481).
 *
 * <p>To leave out what still waits would make every wait look shorter than it is, because the longest are not over. The
 * estimate lets each count for as long as it was watched: S(t) is the product, over the times t_j up to t at which
 * something ended, of 1 - d_j / n_j, where d_j ended then and n_j had waited so long. Standard error: M. Greenwood's
 * formula (1926). Limits at 95 % by the log-log transformation (J. D. Kalbfleisch, R. L. Prentice, The Statistical Analysis
 * of Failure Time Data, 1980), which stay from 0 to 1.
 *
 * @param n how many there were
 * @param ended how many of them ended
 * @param steps one for each time at which something ended, ascending
 * @param last the longest time that any was watched
 */
public record ProductLimit(int n, int ended, List<Step> steps, double last) {

  private static final double UPPER_TAIL = 0.975;

  /**
   * A time at which something ended.
   *
   * @param time since it began
   * @param atRisk how many had waited so long
   * @param ended how many ended then
   * @param waiting the share that waits longer
   * @param error the standard error of that
   * @param low its lower limit at 95 %
   * @param high its upper limit
   */
  public record Step(double time, int atRisk, int ended, double waiting, double error, double low, double high) {}

  /**
   * One that was watched.
   *
   * @param time for how long, at least 0
   * @param ended whether it ended then; otherwise it was not watched any longer
   */
  public record Watched(double time, boolean ended) {

    /** Checks the time. */
    public Watched {
      if (!(time >= 0)) {
        throw new IllegalArgumentException("nothing is watched for less than no time; given: " + time);
      }
    }
  }

  /** Copies the steps. */
  public ProductLimit {
    steps = List.copyOf(steps);
  }

  /** The estimate. What ended at a time at which another was watched no longer ended before that, as is the custom. */
  public static ProductLimit of(List<Watched> watched) {
    TreeMap<Double, int[]> byTime = new TreeMap<>();
    watched.forEach(w -> byTime.computeIfAbsent(w.time(), t -> new int[2])[w.ended() ? 0 : 1]++);
    List<Step> steps = new ArrayList<>();
    int atRisk = watched.size();
    double waiting = 1;
    double sum = 0;
    int all = 0;
    for (var entry : byTime.entrySet()) {
      int ended = entry.getValue()[0];
      if (ended > 0) {
        waiting *= 1 - (double) ended / atRisk;
        sum += (double) ended / ((double) atRisk * (atRisk - ended));
        steps.add(step(entry.getKey(), atRisk, ended, waiting, sum));
        all += ended;
      }
      atRisk -= ended + entry.getValue()[1];
    }
    return new ProductLimit(watched.size(), all, steps, byTime.isEmpty() ? 0 : byTime.lastKey());
  }

  private static Step step(double time, int atRisk, int ended, double waiting, double sum) {
    if (atRisk == ended) {
      return new Step(time, atRisk, ended, 0, 0, 0, 0);
    }
    double error = waiting * Math.sqrt(sum);
    double z = new NormalDistribution().inverseCumulativeProbability(UPPER_TAIL);
    double spread = Math.exp(z * Math.sqrt(sum) / Math.log(waiting));
    return new Step(
        time, atRisk, ended, waiting, error, Math.pow(waiting, 1 / spread), Math.pow(waiting, spread));
  }

  /**
   * The time after which no more than this share waits: 0.5 for the median.
   *
   * @return empty if more than that still waits after the last step
   */
  public OptionalDouble untilOnly(double share) {
    return steps.stream().filter(s -> s.waiting() <= share + 1e-12).mapToDouble(Step::time).findFirst();
  }

  /**
   * The limits of the median at 95 %: the times whose own limits hold one half (R. Brookmeyer, J. Crowley, Biometrics 38,
   * 1982, 29-41).
   *
   * @return the lower and the upper limit, each empty if not even the last step reaches it
   */
  public List<OptionalDouble> medianLimits() {
    return List.of(
        steps.stream().filter(s -> s.low() <= 0.5).mapToDouble(Step::time).findFirst(),
        steps.stream().filter(s -> s.high() <= 0.5).mapToDouble(Step::time).findFirst());
  }
}

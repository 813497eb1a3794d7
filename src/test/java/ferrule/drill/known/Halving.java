package ferrule.drill.known;

import java.util.random.RandomGenerator;

/**
 * A memory that fades exponentially, the chance being 2 to minus the time over the half-life, as in half-life
 * regression (B. Settles, B. Meeder, ACL 2016, 1848-1858). Practice makes the half-life longer by a factor that
 * varies, less where the name was still there; a failure shortens it first. The numbers are ours.
 */
final class Halving implements SimulatedMemory {

  private static final double FIRST_DAYS = 0.7;
  private static final double RIGHT = Math.log(8);
  private static final double READ = Math.log(2.5);
  private static final double ENCODING_SPREAD = 0.4;

  private final double level;
  private final RandomGenerator random;
  private double logHalfLife = Double.NEGATIVE_INFINITY;
  private double last;

  /**
   * @param level how well this apprentice takes to this part; 0 is usual
   */
  Halving(double level, RandomGenerator random) {
    this.level = level;
    this.random = random;
  }

  @Override
  public double recall(double time) {
    return named(time - last, Math.exp(logHalfLife));
  }

  /** The chance of recall after a time. */
  static double named(double elapsed, double halfLife) {
    return halfLife == 0 ? 0 : Math.pow(2, -elapsed / halfLife);
  }

  @Override
  public void practise(double time, boolean recalled) {
    double varied = Math.exp(ENCODING_SPREAD * random.nextGaussian());
    double step = (recalled ? RIGHT : READ) * (1 - recall(time)) * varied;
    double least = Math.log(FIRST_DAYS) + level;
    logHalfLife = Math.max(least, logHalfLife - (recalled ? 0 : 0.5)) + (Double.isInfinite(logHalfLife) ? 0 : step);
    last = time;
  }
}

package ferrule.drill.known;

import java.util.random.RandomGenerator;

/**
 * A memory of many pools that leak at different rates and learn from what the faster ones miss: the multiscale context
 * model of M. C. Mozer, H. Pashler, N. Cepeda, R. Lindsey, E. Vul, Advances in Neural Information Processing Systems
 * 22, 2009, 1321-1329, where the pools stand for contexts that drift. The numbers are ours; encoding varies from one
 * practice to the next.
 */
final class LeakyPools implements SimulatedMemory {

  private static final int POOLS = 24;
  private static final double FASTEST_DAYS = 0.01;
  private static final double RATIO = 1.6;
  private static final double SLOWER_WEIGHS = 1.0;
  private static final double READING = 1.0;
  private static final double RECALLING = 4.0;
  private static final double ENCODING_SPREAD = 0.5;

  private final double[] level = new double[POOLS];
  private final double rate;
  private final RandomGenerator random;
  private double last = -1e4; // long before anything is asked

  /**
   * @param rate how fast this apprentice learns this part; 1 is usual
   */
  LeakyPools(double rate, RandomGenerator random) {
    this.rate = rate;
    this.random = random;
  }

  @Override
  public double recall(double time) {
    return Math.min(1, strengths(leaked(time))[POOLS - 1]);
  }

  @Override
  public void practise(double time, boolean recalled) {
    double[] now = leaked(time);
    double[] strengths = strengths(now);
    double step = rate * (recalled ? RECALLING : READING) * Math.exp(ENCODING_SPREAD * random.nextGaussian());
    for (int i = 0; i < POOLS; i++) {
      level[i] = now[i] + step * Math.max(0, 1 - strengths[i]);
    }
    last = time;
  }

  private double[] leaked(double time) {
    double[] now = new double[POOLS];
    for (int i = 0; i < POOLS; i++) {
      now[i] = level[i] * Math.exp(-(time - last) / (FASTEST_DAYS * Math.pow(RATIO, i)));
    }
    return now;
  }

  /** Of each pool and all faster ones together. */
  private static double[] strengths(double[] now) {
    double[] strengths = new double[POOLS];
    double sum = 0;
    double weights = 0;
    double weight = 1;
    for (int i = 0; i < POOLS; i++) {
      sum += weight * now[i];
      weights += weight;
      weight *= SLOWER_WEIGHS;
      strengths[i] = sum / weights;
    }
    return strengths;
  }
}

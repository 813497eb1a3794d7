package ferrule.drill.known;

import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;

/**
 * A memory of many traces, each decaying as a power of its age at a rate that is set by how active the memory was when
 * the trace was laid: P. I. Pavlik, J. R. Anderson, Cognitive Science 29, 2005, 559-586, with the parameters given
 * there (from memory). Encoding varies: each trace has a strength of its own. Practice that succeeds leaves a stronger
 * trace than reading the name after a failure (our numbers).
 */
final class PowerTraces implements SimulatedMemory {

  private static final double DECAY_SCALE = 0.217;
  private static final double DECAY_INTERCEPT = 0.177;
  private static final double THRESHOLD = -0.704;
  private static final double NOISE = 0.255;
  /** Between sessions a second does as much as this many seconds of a session. */
  private static final double IDLE = 0.025;
  private static final double SESSION_SECONDS = 1800;
  private static final double DAY_SECONDS = 86400;
  private static final double ENCODING_SPREAD = 0.6;
  private static final double READING_STRENGTH = 0.6;

  private record One(double time, double decay, double strength) {}

  private final List<One> traces = new ArrayList<>();
  private final double offset;
  private final RandomGenerator random;

  /**
   * @param offset what the apprentice's aptitude and the part's hardness add to the activation
   */
  PowerTraces(double offset, RandomGenerator random) {
    this.offset = offset;
    this.random = random;
  }

  @Override
  public double recall(double time) {
    return traces.isEmpty() ? 0 : 1 / (1 + Math.exp((THRESHOLD - offset - activation(time)) / NOISE));
  }

  @Override
  public void practise(double time, boolean recalled) {
    double active = traces.isEmpty() ? 0 : Math.exp(activation(time));
    double strength = Math.exp(ENCODING_SPREAD * random.nextGaussian()) * (recalled ? 1 : READING_STRENGTH);
    traces.add(new One(time, DECAY_SCALE * active + DECAY_INTERCEPT, strength));
  }

  private double activation(double time) {
    List<Double> ages = new ArrayList<>();
    List<Double> decays = new ArrayList<>();
    List<Double> strengths = new ArrayList<>();
    for (One t : traces) {
      ages.add(felt(time - t.time()));
      decays.add(t.decay());
      strengths.add(t.strength());
    }
    return baseLevel(ages, decays, strengths);
  }

  private static double felt(double days) {
    double seconds = Math.max(1, days * DAY_SECONDS);
    return Math.min(seconds, SESSION_SECONDS) + IDLE * Math.max(0, seconds - SESSION_SECONDS);
  }

  /** The base level of ACT-R: the logarithm of the sum of the strengths, each times its age to minus its decay. */
  static double baseLevel(List<Double> ages, List<Double> decays, List<Double> strengths) {
    double sum = 0;
    for (int i = 0; i < ages.size(); i++) {
      sum += strengths.get(i) * Math.pow(ages.get(i), -decays.get(i));
    }
    return Math.log(sum);
  }
}

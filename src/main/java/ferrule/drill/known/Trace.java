package ferrule.drill.known;

import java.time.Instant;

/**
 * What an apprentice's answers for one part have left behind.
 *
 * @param hold the logarithm of the hold, in days
 * @param asked how often the part was asked for, at least once
 * @param last when it was asked for last; the right name was shown then
 * @param missed whether the answer was not wholly right then
 */
public record Trace(Belief hold, int asked, Instant last, boolean missed) {

  /** Checks the count. */
  public Trace {
    if (asked < 1) {
      throw new IllegalArgumentException("a trace is left by at least one answer; given: " + asked);
    }
  }

  /** What the first answer has left, which counts so much and was given then. */
  public static Trace first(Belief hold, double credit, Instant at) {
    return new Trace(hold, 1, at, credit < 1);
  }

  /** What one answer more leaves, which counts so much and was given then. */
  Trace after(Belief held, double credit, Instant at) {
    return new Trace(held, asked + 1, at, credit < 1);
  }
}

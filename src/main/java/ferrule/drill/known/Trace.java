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
}

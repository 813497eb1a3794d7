package ferrule.drill;

import java.time.Duration;

/**
 * How much time a person has where a drill has a time limit. It is an accommodation: instructors alone see it.
 *
 * @param percent the share of every time limit, from {@value #USUAL} to {@value #MOST} per cent
 * @param extraMinutes minutes on top in the drill in question, from 0 to {@value #MOST_MINUTES}
 */
public record Pace(int percent, int extraMinutes) {

  /** The share of whoever has no accommodation. */
  public static final int USUAL = 100;

  /** The largest share. */
  public static final int MOST = 400;

  /** The most minutes on top. */
  public static final int MOST_MINUTES = 240;

  /** No accommodation. */
  public static final Pace PLAIN = new Pace(USUAL, 0);

  /** Checks the ranges. */
  public Pace {
    if (percent < USUAL || percent > MOST) {
      throw new IllegalArgumentException("a pace is " + USUAL + " to " + MOST + " per cent; given: " + percent);
    }
    if (extraMinutes < 0 || extraMinutes > MOST_MINUTES) {
      throw new IllegalArgumentException("extra time is 0 to " + MOST_MINUTES + " minutes; given: " + extraMinutes);
    }
  }

  /** The time that it makes of a limit. */
  public Duration of(Duration limit) {
    return limit.multipliedBy(percent).dividedBy(USUAL).plusMinutes(extraMinutes);
  }
}

package ferrule.drill;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;

/**
 * When an attempt closes: at the end of its time limit or, where late work is not accepted, when it is due, whichever is
 * first. An answer that arrives up to {@link #GRACE} later still counts, because what is sent takes its time.
 *
 * @param at when it closes, as pages say it
 * @param timeLimit whether it is the time limit that ends it
 */
public record Deadline(Instant at, boolean timeLimit) {

  /** How long an answer may be on its way. */
  public static final Duration GRACE = Duration.ofSeconds(30);

  /**
   * The deadline of an attempt, if it has one.
   *
   * @param startedAt when the attempt was started
   * @param pace the time that its apprentice has
   * @param zone the school's zone
   */
  public static Optional<Deadline> of(Conditions conditions, Instant startedAt, Pace pace, ZoneId zone) {
    Optional<Deadline> limited = conditions.limit().map(l -> new Deadline(startedAt.plus(pace.of(l)), true));
    if (conditions.lateWork()) {
      return limited;
    }
    Deadline due = new Deadline(conditions.lateFrom(zone), false);
    return Optional.of(limited.filter(l -> l.at().isBefore(due.at())).orElse(due));
  }

  /** Whether nothing that arrives now counts any more. */
  public boolean isPast(Instant now) {
    return now.isAfter(at.plus(GRACE));
  }
}

package ferrule.drill;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Optional;

/**
 * Under which conditions an assignment is taken: from when until when, how often, how long, and when its verdicts are
 * shown. Dates and times are those of the school's own clock.
 *
 * @param opens from when on it can be started; empty for at once
 * @param dueOn the last day on which it is on time
 * @param dueTime until when on that day, which counts still; empty for its end
 * @param lateWork whether it can be started and answered after it was due
 * @param attempts how often one person may take it, from 1 to {@value #MOST_ATTEMPTS}
 * @param counts which of several attempts counts
 * @param feedback when the verdicts are shown
 * @param limit how long one attempt may take, from 1 to {@value #LONGEST_LIMIT} whole minutes; empty for any time
 */
public record Conditions(
    Optional<LocalDateTime> opens,
    LocalDate dueOn,
    Optional<LocalTime> dueTime,
    boolean lateWork,
    int attempts,
    Counts counts,
    Feedback feedback,
    Optional<Duration> limit) {

  /** The most attempts that one person may have. */
  public static final int MOST_ATTEMPTS = 9;

  /** The longest time limit, in minutes. */
  public static final int LONGEST_LIMIT = 240;

  /** Which of several attempts counts. */
  public enum Counts {
    /** The one with the most points. */
    BEST,
    /** The one that was finished last. */
    LAST
  }

  /** When the verdicts on the answers are shown. */
  public enum Feedback {
    /** After each answer. */
    EACH,
    /** When the attempt is over. */
    END
  }

  /** Checks the ranges, and that it opens before it is due. */
  public Conditions {
    if (attempts < 1 || attempts > MOST_ATTEMPTS) {
      throw new IllegalArgumentException("there are 1 to " + MOST_ATTEMPTS + " attempts; given: " + attempts);
    }
    if (limit.filter(l -> l.toMinutes() < 1 || l.toMinutes() > LONGEST_LIMIT || l.toSecondsPart() > 0).isPresent()) {
      throw new IllegalArgumentException(
          "a time limit is 1 to " + LONGEST_LIMIT + " whole minutes; given: " + limit.get());
    }
    if (opens.filter(o -> !o.isBefore(lastMoment(dueOn, dueTime))).isPresent()) {
      throw new IllegalArgumentException("it opens " + opens.get() + ", which is not before it is due");
    }
  }

  /** The usual conditions: open at once, once, any time, verdicts after each answer, late work accepted. */
  public static Conditions dueOn(LocalDate day) {
    return new Conditions(
        Optional.empty(), day, Optional.empty(), true, 1, Counts.BEST, Feedback.EACH, Optional.empty());
  }

  /** The same, open to late work or not. */
  public Conditions withLateWork(boolean accepted) {
    return new Conditions(opens, dueOn, dueTime, accepted, attempts, counts, feedback, limit);
  }

  /** The same with this many attempts, of which this one counts. */
  public Conditions withAttempts(int many, Counts which) {
    return new Conditions(opens, dueOn, dueTime, lateWork, many, which, feedback, limit);
  }

  /** The same with verdicts at this time. */
  public Conditions withFeedback(Feedback when) {
    return new Conditions(opens, dueOn, dueTime, lateWork, attempts, counts, when, limit);
  }

  /** The same with this time limit. */
  public Conditions withLimit(Duration time) {
    return new Conditions(opens, dueOn, dueTime, lateWork, attempts, counts, feedback, Optional.of(time));
  }

  /** The same, due at this time of its day. */
  public Conditions withDueTime(LocalTime time) {
    return new Conditions(opens, dueOn, Optional.of(time), lateWork, attempts, counts, feedback, limit);
  }

  /** The first instant at which it is late. */
  public Instant lateFrom(ZoneId zone) {
    return lastMoment(dueOn, dueTime).atZone(zone).toInstant();
  }

  private static LocalDateTime lastMoment(LocalDate day, Optional<LocalTime> time) {
    // "until 22:00" takes in the whole minute
    return time.map(t -> day.atTime(t).plusMinutes(1)).orElseGet(() -> day.plusDays(1).atStartOfDay());
  }

  /** Whether it cannot be started yet. */
  public boolean isAhead(Instant now, ZoneId zone) {
    return opens.filter(o -> now.isBefore(o.atZone(zone).toInstant())).isPresent();
  }

  /** Whether it is past due. */
  public boolean isPast(Instant now, ZoneId zone) {
    return !now.isBefore(lateFrom(zone));
  }
}

package ferrule.drill;

import java.time.Instant;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Where one person stands with an assignment at a moment: whether it can be started, gone on with or taken again, and
 * which attempt counts.
 *
 * @param assignment the assignment
 * @param attempts the person's attempts, in order
 * @param pace the time that the person has
 * @param now the moment
 * @param zone the school's zone
 */
record Turn(Assignment assignment, List<SittingSummary> attempts, Pace pace, Instant now, ZoneId zone) {

  /** Puts the attempts in order. */
  Turn {
    attempts = attempts.stream().sorted(Comparator.comparingInt(SittingSummary::attempt)).toList();
  }

  /** What a person can do. */
  enum State {
    /** It has not opened yet. */
    AHEAD,
    /** It can be started. */
    NEW,
    /** An attempt is under way. */
    UNDER_WAY,
    /** An attempt is over, and it can be taken again. */
    AGAIN,
    /** The last attempt is over. */
    OVER,
    /** It was never started and has closed. */
    MISSED
  }

  State state() {
    if (latest().filter(s -> !isOver(s)).isPresent()) {
      return State.UNDER_WAY;
    }
    boolean closed = !conditions().lateWork() && conditions().isPast(now, zone);
    if (attempts.isEmpty()) {
      return closed ? State.MISSED : conditions().isAhead(now, zone) ? State.AHEAD : State.NEW;
    }
    return !closed && attempts.size() < conditions().attempts() ? State.AGAIN : State.OVER;
  }

  private Conditions conditions() {
    return assignment.conditions();
  }

  Optional<SittingSummary> latest() {
    return attempts.isEmpty() ? Optional.empty() : Optional.of(attempts.get(attempts.size() - 1));
  }

  /** When an attempt closes, if it does. */
  Optional<Deadline> deadline(SittingSummary attempt) {
    return Deadline.of(conditions(), attempt.startedAt(), pace, zone);
  }

  /** Whether nothing can be added to an attempt. */
  boolean isOver(SittingSummary attempt) {
    return attempt.isDone() || deadline(attempt).filter(d -> d.isPast(now)).isPresent();
  }

  /** The attempt that counts: of those that are over, the best or the last; empty if none is over. */
  Optional<SittingSummary> counted() {
    List<SittingSummary> over = attempts.stream().filter(this::isOver).toList();
    if (over.isEmpty()) {
      return Optional.empty();
    }
    return conditions().counts() == Conditions.Counts.LAST
        ? Optional.of(over.get(over.size() - 1))
        : over.stream().max(Comparator.comparingDouble(s -> s.credit() / s.length()));
  }

  /** Whether an attempt was finished after the assignment was due. */
  boolean isLate(SittingSummary attempt) {
    return attempt.lastAnswerAt().filter(at -> conditions().isPast(at, zone)).isPresent();
  }
}

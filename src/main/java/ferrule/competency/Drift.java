package ferrule.competency;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZonedDateTime;
import java.time.zone.ZoneOffsetTransition;
import java.util.Optional;

/**
 * Finds the first moment at which the passing of time alone may change how evidence counts.
 *
 * <p>What counts lies within a span of the calendar before the moment of judging. The moment that lies a month before
 * another does not always move forward with it: months have different lengths, so that on the last days of March it stays
 * on the last day of February while the time of day runs, and clocks are put forward and back. So a piece of work is
 * looked at by days first: before the day on whose earlier end its own day lies, it cannot leave; on such a day, it leaves
 * at its own time of day; after the last such day it cannot come back. On days on which clocks are changed, here or there,
 * nothing is promised.
 */
final class Drift {

  private final ZonedDateTime now;
  private Instant next;

  /** Drift from this moment on, in the school's zone. */
  Drift(ZonedDateTime now) {
    this.now = now;
  }

  /** The first moment, not before now, at which something may change; empty if there is none. */
  Optional<Instant> next() {
    return Optional.ofNullable(next);
  }

  /** Takes into account that what happened at a moment counts for so long. */
  void leaves(Instant happened, Span span) {
    LocalDateTime then = LocalDateTime.ofInstant(happened, now.getZone());
    LocalDate today = now.toLocalDate();
    LocalDate reached = span.before(today);
    if (reached.isAfter(then.toLocalDate())) {
      return;
    }
    if (reached.isBefore(then.toLocalDate())) {
      at(firstDayReaching(then.toLocalDate(), span).atStartOfDay(now.getZone()).toInstant());
      return;
    }
    if (isClockChanged(today) || isClockChanged(reached)) {
      at(now.toInstant());
      return;
    }
    Instant todayAtThatTime = ZonedDateTime.of(today, then.toLocalTime(), now.getZone()).toInstant();
    if (!todayAtThatTime.isBefore(now.toInstant())) {
      at(todayAtThatTime);
    }
    // the next day may reach back no farther than this one
    at(today.plusDays(1).atStartOfDay(now.getZone()).toInstant());
  }

  /** Takes into account that what is of a day counts for so long. */
  void leaves(LocalDate day, Span span) {
    if (!span.before(now.toLocalDate()).isAfter(day)) {
      at(firstDayReaching(day.plusDays(1), span).atStartOfDay(now.getZone()).toInstant());
    }
  }

  /** Takes into account that something counts for the last time on a day. */
  void ends(LocalDate last) {
    at(last.plusDays(1).atStartOfDay(now.getZone()).toInstant());
  }

  /** The first day from today on before which the span lies on that day or later. */
  private LocalDate firstDayReaching(LocalDate then, Span span) {
    // a month's end is at most three days away from the same day of another month
    LocalDate day = then.plus(span.count(), span.unit()).minusDays(3);
    while (span.before(day).isBefore(then)) {
      day = day.plusDays(1);
    }
    return day.isBefore(now.toLocalDate()) ? now.toLocalDate() : day;
  }

  private boolean isClockChanged(LocalDate day) {
    Instant begin = day.minusDays(1).atStartOfDay(now.getZone()).toInstant();
    ZoneOffsetTransition change = now.getZone().getRules().nextTransition(begin);
    return change != null && change.getInstant().isBefore(day.plusDays(2).atStartOfDay(now.getZone()).toInstant());
  }

  private void at(Instant moment) {
    if (next == null || moment.isBefore(next)) {
      next = moment;
    }
  }
}

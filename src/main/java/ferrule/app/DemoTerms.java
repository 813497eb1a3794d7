package ferrule.app;

import java.time.Clock;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.time.temporal.TemporalAdjusters;

/**
 * The days of the invented demo programme. They were written down for terms that come to their last evening on 24 November
 * 2026, and are moved by whole weeks, so that the last evening is the last Tuesday before the demo is begun: what is shown
 * as due or as about to lapse is so whenever somebody tries Ferrule, and nobody has answered or signed after today.
 */
record DemoTerms(long weeks) {

  private static final LocalDate WRITTEN_FOR = LocalDate.of(2026, 11, 24);

  /** The terms whose last evening is the last Tuesday before this clock's day at Greenwich. */
  static DemoTerms before(Clock clock) {
    LocalDate today = LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC);
    LocalDate tuesday = today.with(TemporalAdjusters.previous(DayOfWeek.TUESDAY));
    return new DemoTerms(ChronoUnit.WEEKS.between(WRITTEN_FOR, tuesday));
  }

  /** A day as it was written down, where it lies in these terms; the weekday stays. */
  LocalDate day(int year, int month, int dayOfMonth) {
    return LocalDate.of(year, month, dayOfMonth).plusWeeks(weeks);
  }

  /** A moment of a day as it was written down, at Greenwich. */
  Instant at(int year, int month, int dayOfMonth, LocalTime time) {
    return day(year, month, dayOfMonth).atTime(time).toInstant(ZoneOffset.UTC);
  }

  /** The last evening at the bench: after it nobody has done anything. */
  LocalDate lastEvening() {
    return WRITTEN_FOR.plusWeeks(weeks);
  }
}

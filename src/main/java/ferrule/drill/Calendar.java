package ferrule.drill;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;

/**
 * Days as the school sees them.
 *
 * @param clock the time now
 * @param zone the school's zone: a due date ends at midnight there
 */
public record Calendar(Clock clock, ZoneId zone) {

  private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.UK);
  private static final DateTimeFormatter DAY_AND_YEAR = DateTimeFormatter.ofPattern("EEE d MMM yyyy", Locale.UK);
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.UK);
  private static final DateTimeFormatter MOMENT = DateTimeFormatter.ofPattern("EEE d MMM, HH:mm", Locale.UK);

  /** Now. */
  public Instant now() {
    return clock.instant();
  }

  /** Today at the school. */
  public LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), zone);
  }

  /** Such as "due tomorrow, Tue 3 Nov". */
  String due(LocalDate day) {
    long away = ChronoUnit.DAYS.between(today(), day);
    if (away == 0) {
      return "due today";
    }
    if (away == 1) {
      return "due tomorrow, " + day(day);
    }
    return away > 1 ? "due " + day(day) : "was due " + day(day);
  }

  /** Such as "due tomorrow, Tue 3 Nov, 22:00". */
  String due(Conditions conditions) {
    return due(conditions.dueOn()) + conditions.dueTime().map(t -> ", " + TIME.format(t)).orElse("");
  }

  /** Such as "Tue 3 Nov, 22:00"; without the time where it is the end of the day. */
  String dueDay(Conditions conditions) {
    return day(conditions.dueOn()) + conditions.dueTime().map(t -> ", " + TIME.format(t)).orElse("");
  }

  boolean isPast(Conditions conditions) {
    return conditions.isPast(now(), zone);
  }

  /** Such as "18:05", or with its day where that is not today. */
  String time(Instant at) {
    return LocalDate.ofInstant(at, zone).equals(today()) ? TIME.format(at.atZone(zone)) : moment(at);
  }

  /** Such as "Tue 3 Nov, 18:05". */
  String moment(LocalDateTime at) {
    return MOMENT.format(at);
  }

  /** Such as "Tue 3 Nov"; with the year where it is not this one. */
  public String day(LocalDate day) {
    return (day.getYear() == today().getYear() ? DAY : DAY_AND_YEAR).format(day);
  }

  /** Such as "Tue 3 Nov, 18:05". */
  public String moment(Instant at) {
    return MOMENT.format(at.atZone(zone));
  }
}

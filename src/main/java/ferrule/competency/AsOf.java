package ferrule.competency;

import java.time.Clock;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;

/**
 * The moment that a page looks at: the end of a past day in the school's zone, or now.
 *
 * @param day the day
 * @param instant the last moment that counts
 * @param past whether it is before today
 */
public record AsOf(LocalDate day, Instant instant, boolean past) {

  private static final DateTimeFormatter WORDS = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

  /**
   * The moment that a date names; now, for today, for a later day and for no date.
   *
   * @throws IllegalArgumentException if the text is not a date
   */
  public static AsOf parse(Optional<String> date, Clock clock, ZoneId zone) {
    Instant now = clock.instant();
    LocalDate today = LocalDate.ofInstant(now, zone);
    try {
      LocalDate day = date.map(LocalDate::parse).filter(today::isAfter).orElse(today);
      boolean past = day.isBefore(today);
      return new AsOf(day, past ? endOf(day, zone) : now, past);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("a date is written like 2026-11-25; given: " + date.orElse(""), e);
    }
  }

  /** The last moment of a day in this zone that counts. */
  public static Instant endOf(LocalDate day, ZoneId zone) {
    return day.plusDays(1).atStartOfDay(zone).toInstant().minusNanos(1_000);
  }

  /** The day in words, such as "25 November 2026". */
  public String inWords() {
    return inWords(day);
  }

  /** A day in words, such as "25 November 2026". */
  public static String inWords(LocalDate day) {
    return WORDS.format(day);
  }

  /** What to add to the address of another page that is to look at the same moment; empty for now. */
  public String query() {
    return past ? "?as-of=" + day : "";
  }
}

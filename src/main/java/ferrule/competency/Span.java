package ferrule.competency;

import java.time.LocalDate;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A length of time on the calendar, such as "12 months".
 *
 * @param count how many, at least 1
 * @param unit days, weeks, months or years
 */
public record Span(int count, ChronoUnit unit) {

  private static final Pattern TEXT = Pattern.compile("([1-9][0-9]{0,3}) (day|week|month|year)s?");

  /** Checks count and unit. */
  public Span {
    boolean ofCalendar = unit == ChronoUnit.DAYS || unit == ChronoUnit.WEEKS || unit == ChronoUnit.MONTHS
        || unit == ChronoUnit.YEARS;
    if (count < 1 || !ofCalendar) {
      throw new IllegalArgumentException(
          "a span is at least one day, week, month or year; given: " + count + " " + unit);
    }
  }

  /** The span that a text such as "12 months" or "1 year" names; throws {@link IllegalArgumentException} for others. */
  public static Span parse(String text) {
    Matcher m = TEXT.matcher(text);
    if (!m.matches()) {
      throw new IllegalArgumentException("a span is written like 12 months or 6 weeks; given: " + text);
    }
    return new Span(Integer.parseInt(m.group(1)), ChronoUnit.valueOf(m.group(2).toUpperCase(Locale.ROOT) + "S"));
  }

  /** The moment that lies this long before another. */
  ZonedDateTime before(ZonedDateTime moment) {
    return moment.minus(count, unit);
  }

  /** The day that lies this long before another. */
  LocalDate before(LocalDate day) {
    return day.minus(count, unit);
  }

  /** Such as "12 months". */
  public String inWords() {
    String one = unit.toString().toLowerCase(Locale.ROOT).replaceFirst("s$", "");
    return (count == 1 ? "one " : Count.word(count) + " ") + one + (count == 1 ? "" : "s");
  }
}

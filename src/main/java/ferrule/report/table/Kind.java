package ferrule.report.table;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;

/**
 * What sort of values a column holds. A kind decides how a value stands in each file: a date is a real date in a
 * spreadsheet, a number never a text.
 *
 * @param <V> the Java type of a value
 */
public final class Kind<V> {

  /** Words. */
  public static final Kind<String> TEXT = new Kind<>("text", "", Cell.Text::new);
  /** Yes or no. */
  public static final Kind<Boolean> FLAG = new Kind<>("yes or no", "", Cell.Flag::new);
  /** A whole number of things. */
  public static final Kind<Number> COUNT = new Kind<>("count", "", Kind::count);
  /** A part of a whole, from 0 to 1; people are shown hundredths. */
  public static final Kind<Number> SHARE = new Kind<>("share", "", n -> new Cell.Share(n.doubleValue()));
  /** A day. */
  public static final Kind<LocalDate> DATE = new Kind<>("date", "", Cell.Day::new);
  /** A moment, in UTC. */
  public static final Kind<Instant> INSTANT = new Kind<>("instant", "UTC", Cell.Moment::new);
  /** A length of time. */
  public static final Kind<Duration> DURATION = new Kind<>("duration", "", Cell.Length::new);
  /** A number without a unit. */
  public static final Kind<Number> NUMBER = number("");

  private final String word;
  private final String unit;
  private final Function<V, Cell> cell;

  private Kind(String word, String unit, Function<V, Cell> cell) {
    this.word = word;
    this.unit = unit;
    this.cell = cell;
  }

  /** A number in this unit, such as "h" or "log odds". */
  public static Kind<Number> number(String unit) {
    return new Kind<>("number", Objects.requireNonNull(unit), n -> new Cell.Quantity(n.doubleValue()));
  }

  private static Cell count(Number number) {
    if (number.doubleValue() != number.longValue()) {
      throw new IllegalArgumentException("a count is a whole number; given: " + number);
    }
    return new Cell.Count(number.longValue());
  }

  /** The kind in a word, as the data dictionary has it. */
  public String word() {
    return word;
  }

  /** The unit of a number, or the zone of a moment; empty if there is none. */
  public String unit() {
    return unit;
  }

  /** Whether its values stand to the right, under each other. */
  boolean isNumeric() {
    return !List.of(TEXT, FLAG, DATE, INSTANT).contains(this);
  }

  Cell cell(V value) {
    return cell.apply(value);
  }
}

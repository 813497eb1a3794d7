package ferrule.bench;

import java.math.BigDecimal;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a gauge showed, as it was read: {@code 0.30 mm} keeps its last zero, because it tells how finely it was read.
 *
 * @param value in the unit
 * @param unit what it was read in
 */
public record Reading(BigDecimal value, Unit unit) {

  private static final Pattern TYPED = Pattern.compile("([+-]?(?:\\d{1,9}(?:[.,]\\d{0,12})?|[.,]\\d{1,12}))\\s*(\\S.*)?");

  /**
   * A reading as it is typed: a number with a point or a comma, and a unit where it is not the expected one.
   *
   * @param typed such as "0.3", "0,30 mm" or "12 thou"
   * @param expected the unit of a bare number
   * @throws IllegalArgumentException if it is no such reading; the message says what was expected
   */
  public static Reading parse(String typed, Unit expected) {
    Matcher m = TYPED.matcher(typed.strip().replace('−', '-'));
    if (!m.matches()) {
      throw new IllegalArgumentException(
          "a reading is a number in " + expected.symbol() + ", such as 0.35; given: " + typed);
    }
    Unit unit = expected;
    if (m.group(2) != null) {
      String symbol = m.group(2).strip();
      unit = Unit.parse(symbol).filter(u -> u.convertsTo(expected)).orElseThrow(
          () -> new IllegalArgumentException(
              "this is read in " + expected.symbol() + "; “" + symbol + "” is not a unit for it"));
    }
    return new Reading(new BigDecimal(m.group(1).replace(',', '.')), unit);
  }

  /** The value in another unit of the same quantity. */
  public BigDecimal in(Unit other) {
    return unit.convert(value, other);
  }

  @Override
  public String toString() {
    return value.toPlainString() + " " + unit.symbol();
  }
}

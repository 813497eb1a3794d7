package ferrule.bench;

import java.math.BigDecimal;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * What a gauge showed, as it was read: {@code 0.30 mm} keeps its last zero, because it tells how finely it was read.
 *
 * @param value in the unit
 * @param unit what it was read in
 */
public record Reading(BigDecimal value, Unit unit) {

  private static final String SIGN = "([+-]?)";
  private static final String DECIMAL = "(\\d{1,9}(?:[.,]\\d{0,12})?|[.,]\\d{1,12})";
  private static final String FRACTION = "(?:(\\d{1,5})(?:\\s+|\\s*-\\s*))?(\\d{1,3})\\s*/\\s*(\\d{1,3})";
  private static final String UNIT = "\\s*(\\S.*)?";
  private static final Pattern TYPED_DECIMAL = Pattern.compile(SIGN + DECIMAL + UNIT);
  private static final Pattern TYPED_FRACTION = Pattern.compile(SIGN + FRACTION + UNIT);
  // what rules are divided into; each is a finite decimal
  private static final List<Integer> PARTS_OF_AN_INCH = List.of(2, 4, 8, 16, 32, 64, 128);

  /**
   * A reading as it is typed: a number with a point or a comma, or a fraction of an inch, and a unit where it is not
   * the expected one.
   *
   * @param typed such as "0.3", "0,30 mm", "5 thou", {@code .0005"} or {@code 3 1/2"}
   * @param expected the unit of a bare number
   * @throws IllegalArgumentException if it is no such reading; the message says what was expected
   */
  public static Reading parse(String typed, Unit expected) {
    String plain = typed.strip().replace('−', '-').replace('⁄', '/');
    Matcher fraction = TYPED_FRACTION.matcher(plain);
    if (fraction.matches()) {
      return fraction(fraction, expected);
    }
    Matcher decimal = TYPED_DECIMAL.matcher(plain);
    if (!decimal.matches()) {
      throw new IllegalArgumentException("a reading is a number in " + examples(expected) + "; given: " + typed);
    }
    BigDecimal value = new BigDecimal(decimal.group(1) + decimal.group(2).replace(',', '.'));
    return new Reading(value, unit(decimal.group(3), expected));
  }

  private static Reading fraction(Matcher m, Unit expected) {
    if (m.group(5) == null && expected != Unit.INCH) {
      throw new IllegalArgumentException(
          "a fraction is read in inches, this in " + expected.symbol() + "; with its unit it would be "
              + m.group().strip() + " in");
    }
    Unit unit = unit(m.group(5), expected);
    int above = Integer.parseInt(m.group(3));
    int below = Integer.parseInt(m.group(4));
    if (unit != Unit.INCH || !PARTS_OF_AN_INCH.contains(below) || above >= below) {
      throw new IllegalArgumentException(
          "a fraction is one of an inch in halves, 4ths, 8ths, 16ths, 32nds, 64ths or 128ths, such as 1/64 in or "
              + "3 1/2 in; anything else in " + expected.symbol() + " is a number such as 0.35");
    }
    BigDecimal whole = m.group(2) == null ? BigDecimal.ZERO : new BigDecimal(m.group(2));
    BigDecimal value = whole.add(BigDecimal.valueOf(above).divide(BigDecimal.valueOf(below)));
    return new Reading(m.group(1).equals("-") ? value.negate() : value, unit);
  }

  private static Unit unit(String written, Unit expected) {
    if (written == null) {
      return expected;
    }
    return Unit.parse(written)
        .filter(u -> u.convertsTo(expected))
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "this is read in " + symbols(expected) + "; “" + written.strip() + "” is not a unit for it"));
  }

  private static String symbols(Unit expected) {
    return expected.alternatives().stream().map(Unit::symbol).collect(Collectors.joining(" or "));
  }

  private static String examples(Unit expected) {
    return switch (expected) {
      case MILLIMETRE, INCH, THOUSANDTH ->
          expected.symbol() + ", such as 0.35, or with its unit, such as 0.35 mm, 1/64 in or 5 thou";
      case CELSIUS, FAHRENHEIT -> expected.symbol() + ", such as 60, or with its unit, such as 140 °F";
      case GRAM, SECOND, CENT -> expected.symbol() + ", such as 3.5";
    };
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

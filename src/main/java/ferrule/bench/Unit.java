package ferrule.bench;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import javax.measure.IncommensurableException;
import javax.measure.MetricPrefix;
import tech.units.indriya.function.RationalNumber;
import tech.units.indriya.unit.BaseUnit;
import tech.units.indriya.unit.Units;

/** A unit that readings at the bench are taken in, and how people write it. */
public enum Unit {
  /** Millimetres. */
  MILLIMETRE("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
  /** Inches: exactly 25.4 mm (international yard and pound agreement, 1959). */
  INCH("in", "\"", "″", "''", "inch", "inches", "in."),
  /** Thousandths of an inch. */
  THOUSANDTH("thou", "thousandth", "thousandths", "mil", "mils"),
  /** Grams. */
  GRAM("g", "gram", "grams", "gm"),
  /** Degrees Celsius. */
  CELSIUS("°C", "c", "degc", "deg c", "celsius"),
  /** Degrees Fahrenheit: K x 9/5 - 459.67. */
  FAHRENHEIT("°F", "f", "degf", "deg f", "fahrenheit"),
  /** Seconds. */
  SECOND("s", "sec", "second", "seconds"),
  /** Cents: hundredths of an equal-tempered semitone. */
  CENT("cents", "cent", "ct", "¢");

  /** The same units as the units library has them; apart, because most readings need no conversion. */
  private static final class Library {

    private static final javax.measure.Unit<?> INCH = Units.METRE.multiply(254).divide(10_000);
    private static final javax.measure.Unit<?> CENT = new BaseUnit<>("cent");

    static javax.measure.Unit<?> of(Unit unit) {
      return switch (unit) {
        case MILLIMETRE -> MetricPrefix.MILLI(Units.METRE);
        case INCH -> INCH;
        case THOUSANDTH -> INCH.divide(1_000);
        case GRAM -> Units.GRAM;
        case CELSIUS -> Units.CELSIUS;
        case FAHRENHEIT -> Units.KELVIN.multiply(5).divide(9).shift(RationalNumber.of(45_967, 100));
        case SECOND -> Units.SECOND;
        case CENT -> CENT;
      };
    }
  }

  private final String symbol;
  private final List<String> alsoWritten;

  Unit(String symbol, String... alsoWritten) {
    this.symbol = symbol;
    this.alsoWritten = List.of(alsoWritten);
  }

  /** How it is written after a number, such as "mm". */
  public String symbol() {
    return symbol;
  }

  /** All ways in which it is written, in small letters. */
  List<String> written() {
    return java.util.stream.Stream.concat(java.util.stream.Stream.of(symbol.toLowerCase(Locale.ROOT)), alsoWritten.stream())
        .toList();
  }

  /** Whether values in this unit can be expressed in the other. */
  public boolean convertsTo(Unit other) {
    return this == other || Library.of(this).getDimension().equals(Library.of(other).getDimension());
  }

  /** The units that readings of this one's quantity may be typed in, this one first. */
  public List<Unit> alternatives() {
    return Arrays.stream(values())
        .filter(u -> u.convertsTo(this))
        .sorted((a, b) -> Boolean.compare(b == this, a == this))
        .toList();
  }

  /**
   * A value in this unit, expressed in another, to 34 digits; exact where it has no more.
   *
   * @throws IllegalArgumentException if the units are of different quantities
   */
  public BigDecimal convert(BigDecimal value, Unit other) {
    if (this == other) {
      return value;
    }
    try {
      // as a ratio, because the library divides decimals with an error in the last digit
      Number converted = Library.of(this).getConverterToAny(Library.of(other)).convert(ratio(value));
      return decimal(converted);
    } catch (IncommensurableException e) {
      throw new IllegalArgumentException(symbol + " cannot be expressed in " + other.symbol, e);
    }
  }

  private static RationalNumber ratio(BigDecimal value) {
    BigDecimal whole = value.scale() < 0 ? value.setScale(0) : value;
    return RationalNumber.of(whole.unscaledValue(), BigInteger.TEN.pow(whole.scale()));
  }

  private static BigDecimal decimal(Number number) {
    if (number instanceof RationalNumber ratio) {
      return new BigDecimal(ratio.getDividend())
          .divide(new BigDecimal(ratio.getDivisor()), MathContext.DECIMAL128);
    }
    return new BigDecimal(number.toString()).round(MathContext.DECIMAL128);
  }

  /** The unit that is written like this, if there is one. */
  public static Optional<Unit> parse(String written) {
    String plain = written.strip().toLowerCase(Locale.ROOT);
    return Arrays.stream(values())
        .filter(u -> u.symbol.toLowerCase(Locale.ROOT).equals(plain) || u.alsoWritten.contains(plain))
        .findFirst();
  }
}

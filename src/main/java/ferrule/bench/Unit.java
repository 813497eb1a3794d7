package ferrule.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Arrays;
import java.util.Optional;

/** A unit that readings at the bench are taken in. */
public enum Unit {
  /** Millimetres. */
  MILLIMETRE("mm", Quantity.LENGTH, "1"),
  /** Inches: exactly 25.4 mm (international yard and pound agreement, 1959). */
  INCH("in", Quantity.LENGTH, "25.4"),
  /** Thousandths of an inch. */
  THOUSANDTH("thou", Quantity.LENGTH, "0.0254"),
  /** Seconds. */
  SECOND("s", Quantity.TIME, "1"),
  /** Cents: hundredths of an equal-tempered semitone. */
  CENT("cents", Quantity.PITCH, "1");

  private enum Quantity {
    LENGTH,
    TIME,
    PITCH
  }

  private final String symbol;
  private final Quantity quantity;
  private final BigDecimal inBase;

  Unit(String symbol, Quantity quantity, String inBase) {
    this.symbol = symbol;
    this.quantity = quantity;
    this.inBase = new BigDecimal(inBase);
  }

  /** How it is written after a number, such as "mm". */
  public String symbol() {
    return symbol;
  }

  /** Whether values in this unit can be expressed in the other. */
  public boolean convertsTo(Unit other) {
    return quantity == other.quantity;
  }

  /**
   * A value in this unit, expressed in another, to 34 digits.
   *
   * @throws IllegalArgumentException if the units are of different quantities
   */
  public BigDecimal convert(BigDecimal value, Unit other) {
    if (!convertsTo(other)) {
      throw new IllegalArgumentException(symbol + " cannot be expressed in " + other.symbol);
    }
    return this == other ? value : value.multiply(inBase).divide(other.inBase, MathContext.DECIMAL128);
  }

  /** The unit with this symbol, if there is one; an inch is also written as a double prime. */
  public static Optional<Unit> parse(String symbol) {
    String plain = symbol.equals("\"") || symbol.equals("″") ? INCH.symbol : symbol.toLowerCase(java.util.Locale.ROOT);
    return Arrays.stream(values()).filter(u -> u.symbol.equals(plain)).findFirst();
  }
}

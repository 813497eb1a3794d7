package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.math.MathContext;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class ReadingTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0.30|0.30 mm", "0,30|0.30 mm", " .5 |0.5 mm", "-0.1 mm|-0.1 mm", "−0.1|-0.1 mm", "12 thou|12 thou",
        "0.012\"|0.012 in", "2. MM|2 mm", ".0005\"|0.0005 in", "5 thou|5 thou", "5thou|5 thou", "1/64 in|0.015625 in",
        "3 1/2\"|3.5 in", "3-1/2 in|3.5 in", "3 1/2 inches|3.5 in", "-1/8″|-0.125 in", "5 mils|5 thou",
        "15⁄32 in|0.46875 in", "+0.2|0.2 mm", "1/128 in|0.0078125 in"
      })
  void isReadAsItIsTypedAtTheBench(String typed, String expected) {
    assertEquals(expected, Reading.parse(typed, Unit.MILLIMETRE).toString());
  }

  @ParameterizedTest
  @CsvSource({
    "CELSIUS, 60, 60 °C", "CELSIUS, 140 F, 140 °F", "CELSIUS, -5 degC, -5 °C", "FAHRENHEIT, 140, 140 °F",
    "GRAM, 3.5, 3.5 g", "GRAM, 12 grams, 12 g", "CENT, -12, -12 cents", "CENT, 4 ct, 4 cents", "INCH, 1/2, 0.5 in",
    "SECOND, 30 sec, 30 s"
  })
  void everyQuantityHasItsUnits(Unit expected, String typed, String read) {
    assertEquals(read, Reading.parse(typed, expected).toString());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "", "about 3", "1.2.3", "3 s", "3 cents", "1e3", "0.3 mm or so", "12345678901", "1/0 in", "1/3 in", "3/2 in",
        "64/64 in", "1/64 mm", "1/64", "1//2 in", "1/2/3", "3 g", "20 °C", "NaN", "٣", "0x10", "5 5", "--1"
      })
  void whatIsNoReadingIsRefusedWithWhatWasExpected(String typed) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> Reading.parse(typed, Unit.MILLIMETRE)).getMessage();
    assertTrue(message.contains("mm"), message);
  }

  @Test
  void theErrorSaysWhichUnitsWouldDo() {
    String message =
        assertThrows(IllegalArgumentException.class, () -> Reading.parse("60 mm", Unit.CELSIUS)).getMessage();
    assertEquals("this is read in °C or °F; “mm” is not a unit for it", message);
  }

  // 1 in = 25.4 mm exactly: international yard and pound agreement, 1959
  @ParameterizedTest
  @CsvSource({
    "0.5 in, MILLIMETRE, 12.7", "10 thou, INCH, 0.01", "25.4 mm, THOUSANDTH, 1000", "25.4 mm, INCH, 1",
    "1/64 in, MILLIMETRE, 0.396875", "3 1/2 in, MILLIMETRE, 88.9", "0.0005 in, THOUSANDTH, 0.5",
    // freezing and boiling point of water on both scales; -40 is the same on both
    "212 F, CELSIUS, 100", "32 F, CELSIUS, 0", "-40 C, FAHRENHEIT, -40", "183 C, FAHRENHEIT, 361.4"
  })
  void conversionsAreExact(String typed, Unit to, BigDecimal expected) {
    BigDecimal found = Reading.parse(typed, to).in(to);
    assertEquals(0, found.compareTo(expected), found.toPlainString());
  }

  @ParameterizedTest
  @EnumSource(Unit.class)
  void thereAndBackIsTheSameValue(Unit unit) {
    for (Unit other : unit.alternatives()) {
      for (String value : new String[] {"0.0005", "-17.25", "916", "1E+3"}) {
        BigDecimal there = unit.convert(new BigDecimal(value), other);
        BigDecimal back = other.convert(there, unit).round(new MathContext(30));
        assertEquals(0, back.compareTo(new BigDecimal(value)), value + " " + unit + " by " + other);
      }
    }
  }

  @Test
  void quantitiesDoNotMix() {
    assertFalse(Unit.CENT.convertsTo(Unit.MILLIMETRE));
    assertFalse(Unit.GRAM.convertsTo(Unit.CELSIUS));
    assertThrows(IllegalArgumentException.class, () -> Unit.GRAM.convert(BigDecimal.ONE, Unit.SECOND));
  }
}

package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ReadingTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0.30|0.30 mm", "0,30|0.30 mm", " .5 |0.5 mm", "-0.1 mm|-0.1 mm", "−0.1|-0.1 mm", "12 thou|12 thou",
        "0.012\"|0.012 in", "2. MM|2 mm"
      })
  void isReadAsItIsTypedAtTheBench(String typed, String expected) {
    assertEquals(expected, Reading.parse(typed, Unit.MILLIMETRE).toString());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "about 3", "1.2.3", "3 s", "3 cents", "1e3", "0.3 mm or so", "12345678901"})
  void whatIsNoReadingIsRefusedWithWhatWasExpected(String typed) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> Reading.parse(typed, Unit.MILLIMETRE)).getMessage();
    assertTrue(message.contains("mm"), message);
  }

  // 1 in = 25.4 mm exactly: international yard and pound agreement, 1959
  @Test
  void inchesAndThousandthsBecomeMillimetres() {
    assertEquals(0, Reading.parse("0.5 in", Unit.MILLIMETRE).in(Unit.MILLIMETRE).compareTo(new BigDecimal("12.7")));
    assertEquals(0, Reading.parse("10 thou", Unit.INCH).in(Unit.INCH).compareTo(new BigDecimal("0.01")));
    assertEquals(0, Reading.parse("25.4", Unit.MILLIMETRE).in(Unit.THOUSANDTH).compareTo(new BigDecimal("1000")));
  }
}

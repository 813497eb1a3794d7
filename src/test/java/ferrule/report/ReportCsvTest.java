package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReportCsvTest {

  // the starts of a formula that the OWASP page on CSV injection lists: = + - @ tab and carriage return (from memory)
  @ParameterizedTest
  @CsvSource(
      quoteCharacter = '`',
      value = {"=1+1, '=1+1", "+Wren, '+Wren", "-Wren, '-Wren", "@sum, '@sum", "Wren Aldous, Wren Aldous", "a=b, a=b"})
  void noNameIsTakenForAFormula(String name, String cell) {
    assertEquals(cell, ReportCsv.safe(name));
  }
}

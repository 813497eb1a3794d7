package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WordingTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "3rd-Valve's  TOP cap | 3rd valve top cap",
        "valves' caps | valves caps",
        "3rdslide | 3rd slide",
        "valve1 | valve 1",
        "3stop | 3 stop",
        "11th | 11th",
        "ﬁnger ｈｏｏｋ | finger hook",
        "№1 casing | no 1 casing",
        "crème brûlée | creme brulee",
        "non-adjustable ring | nonadjustable ring",
        "STRASSE straße | strasse strasse",
      })
  void wordsAreTakenOutOfTheirWriting(String typed, String normal) {
    assertEquals(normal, TermReader.normalForm(typed));
  }
}

package ferrule.report.items;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AdviceTest {

  @ParameterizedTest
  @CsvSource({
    "7, 0.1, 0.5, TOO_FEW", "8, 0.1, , HARD", "10, 0.5, -0.5, SOUND", "19, 0.5, 0.1, SOUND", "20, 0.5, 0.1, TELLS_LITTLE",
    "20, 0.5, -0.1, MISLEADS", "20, 0.97, 0.4, EASY", "20, 0.5, 0.4, SOUND", "20, 1.0, , EASY"
  })
  void smallNumbersGetNoVerdictAndWhatMattersMostComesFirst(int asked, double right, Double correlation, Advice advice) {
    OptionalDouble found = correlation == null ? OptionalDouble.empty() : OptionalDouble.of(correlation);
    assertEquals(advice, Advice.on(new ItemFigures(asked, right, found)));
  }
}

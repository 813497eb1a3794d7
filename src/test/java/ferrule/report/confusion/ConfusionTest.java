package ferrule.report.confusion;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.MixUp;
import ferrule.glossary.ConceptId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConfusionTest {

  private static final ConceptId BELL = ConceptId.of("bell");
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final ConceptId LEADPIPE = ConceptId.of("leadpipe");
  private static final ConceptId RECEIVER = ConceptId.of("receiver");

  /** R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872, table I, method 3 (from memory). */
  @ParameterizedTest
  @CsvSource({"81, 263, 0.2553, 0.3662", "15, 148, 0.0624, 0.1605", "1, 29, 0.0061, 0.1718"})
  void theLimitsAreThePublishedOnes(int times, int answers, double low, double high) {
    Confusion.Pair pair = only(times, answers);
    assertEquals(low, pair.low(), 5.1e-5);
    assertEquals(high, pair.high(), 5.1e-5);
  }

  private static Confusion.Pair only(int times, int answers) {
    return Confusion.of(List.of(new MixUp(BELL, RIM, times, 1)), Map.of(BELL, answers)).pairs().get(0);
  }

  /** Wilson's limits are the shares from which the observed one lies just 1.96 of their own standard errors away. */
  @Test
  void theLimitsSolveWilsonsEquation() {
    double z = new NormalDistribution().inverseCumulativeProbability(0.975);
    for (int answers = 1; answers < 60; answers++) {
      for (int times = 1; times <= answers; times++) {
        Confusion.Pair pair = only(times, answers);
        for (double limit : new double[] {pair.low(), pair.high()}) {
          assertEquals(z * z * limit * (1 - limit) / answers, Math.pow(pair.share() - limit, 2), 1e-9);
        }
      }
    }
  }

  @Test
  void bothDirectionsCountTogetherAndTheSurestComesFirst() {
    Map<ConceptId, Integer> answers = new HashMap<>(Map.of(BELL, 2, RIM, 40, LEADPIPE, 30, RECEIVER, 30));
    Confusion confusion = Confusion.of(
        List.of(
            new MixUp(LEADPIPE, RECEIVER, 9, 5), new MixUp(RECEIVER, LEADPIPE, 6, 4), new MixUp(BELL, RECEIVER, 1, 1),
            new MixUp(RIM, BELL, 3, 2)),
        answers);
    Confusion.Pair first = confusion.pairs().get(0);
    assertEquals(List.of(LEADPIPE, RECEIVER, 15, 60), List.of(first.first(), first.second(), first.times(), first.answers()));
    assertEquals(2, confusion.toTeachAgain(5).size(), "a single slip is not taught again");
    assertFalse(confusion.cell(BELL, RECEIVER).orElseThrow().isEnough());
    assertTrue(confusion.cell(RIM, BELL).orElseThrow().isEnough());
    assertEquals(Map.of(RIM, 3.0 / 40, LEADPIPE, 9.0 / 30, RECEIVER, 6.0 / 30), confusion.asked());
    assertEquals(6.0 / 19, confusion.named().get(LEADPIPE), 1e-12);
    assertEquals(1, confusion.named().values().stream().mapToDouble(s -> s).sum(), 1e-12);
  }

  @Test
  void aTableTakesWholePairs() {
    Map<ConceptId, Integer> answers = Map.of(BELL, 20, RIM, 20, LEADPIPE, 20, RECEIVER, 20);
    Confusion confusion = Confusion.of(
        List.of(new MixUp(BELL, RIM, 9, 5), new MixUp(LEADPIPE, RECEIVER, 6, 4), new MixUp(BELL, LEADPIPE, 2, 2)), answers);
    assertEquals(List.of(BELL, RIM), confusion.parts(3).subList(0, 2));
    assertEquals(3, confusion.parts(3).size(), "the third pair shares a part with the first");
    assertTrue(Confusion.of(List.of(), Map.of()).parts(5).isEmpty());
  }
}

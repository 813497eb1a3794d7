package ferrule.drill.known;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/**
 * The forgetting curve of the model against H. Ebbinghaus, Memory (1885; English 1913): savings after 20 minutes to 31
 * days; and against his three replications in table 3 of J. M. J. Murre, J. Dros, PLoS ONE 10(7), e0120644, 2015, which
 * was read in a transcription; of two of its columns the first and last rows were compared with a second one. Savings
 * are not recall, but they are the one published curve over our range of times, and the question is the shape: quick at
 * first and ever slower.
 */
class ForgettingTest {

  private static final double[] MINUTES = {20, 64, 526, 1440, 2880, 8640, 44640};
  private static final double[] SAVED = {58.2, 44.2, 35.8, 33.7, 27.8, 25.4, 21.1};
  /** What Ebbinghaus calculated by his own formula. */
  private static final double[] CALCULATED = {57.0, 46.7, 34.5, 30.4, 28.1, 24.9, 21.2};

  /** The intervals that Murre and Dros use, and their table 3 for Mack, Seitz and Dros. */
  private static final double[] REPLICATED_MINUTES = {19, 63, 525, 1440, 2880, 8640, 44640};
  private static final double[] MACK = {54.4, 43.2, 28.5, 31.6, 36.5, 30.9, 25.8};
  private static final double[] SEITZ = {44.2, 32.5, 27.0, 27.0, 28.6, 20.5, 20.1};
  private static final double[] DROS = {47.2, 37.3, 27.6, 31.7, 23.0, 16.8, 4.1};

  @Test
  void theFormulaOfEbbinghausGivesHisOwnColumn() {
    for (int i = 0; i < MINUTES.length; i++) {
      assertEquals(CALCULATED[i], ebbinghaus(MINUTES[i]), 0.1);
    }
  }

  private static double ebbinghaus(double minutes) {
    return 100 * 1.84 / (Math.pow(Math.log10(minutes), 1.25) + 1.84);
  }

  @Test
  void theModelForgetsAsEbbinghausDid() {
    double best = modelMisfit(MINUTES, SAVED);
    double halving = halvingMisfit(MINUTES, SAVED);
    String figures =
        String.format(
            Locale.ROOT,
            "root mean square misfit in points of savings: model %.2f, exponential %.2f, Ebbinghaus's formula %.2f",
            best, halving, misfit(MINUTES, SAVED, ForgettingTest::ebbinghaus));
    System.out.println(figures);
    assertTrue(best < 3 && best < halving / 3, figures);
  }

  @Test
  void theModelForgetsAsThoseDidWhoReplicatedHim() {
    Map<String, double[]> saved = new LinkedHashMap<>();
    saved.put("Mack", MACK);
    saved.put("Seitz", SEITZ);
    saved.put("Dros", DROS);
    saved.forEach(
        (who, savings) -> {
          double best = modelMisfit(REPLICATED_MINUTES, savings);
          double halving = halvingMisfit(REPLICATED_MINUTES, savings);
          String figures =
              String.format(
                  Locale.ROOT, "%s: root mean square misfit of the model %.2f, exponential %.2f", who, best, halving);
          System.out.println(figures);
          assertTrue(best < 8 && best < halving, figures);
        });
  }

  private static double modelMisfit(double[] minutes, double[] saved) {
    double best = Double.MAX_VALUE;
    for (double mean = -10; mean <= 4; mean += 0.1) {
      for (double deviation = 0.5; deviation <= 15; deviation += 0.1) {
        Belief hold = Belief.of(mean, deviation);
        best = Math.min(best, misfit(minutes, saved, m -> 100 * recalled(hold, m)));
      }
    }
    return best;
  }

  private static double halvingMisfit(double[] minutes, double[] saved) {
    double best = Double.MAX_VALUE;
    for (double start = 20; start <= 100; start += 1) {
      for (double logHalf = 0; logHalf <= 14; logHalf += 0.05) {
        double half = Math.exp(logHalf);
        double from = start;
        best = Math.min(best, misfit(minutes, saved, m -> from * Halving.named(m, half)));
      }
    }
    return best;
  }

  private static double recalled(Belief hold, double minutes) {
    return NormalRule.mean(hold, x -> KnownModel.logistic(x - Math.log(minutes / 1440)));
  }

  private static double misfit(double[] minutes, double[] saved, DoubleUnaryOperator curve) {
    double sum = 0;
    for (int i = 0; i < minutes.length; i++) {
      sum += Math.pow(curve.applyAsDouble(minutes[i]) - saved[i], 2);
    }
    return Math.sqrt(sum / minutes.length);
  }
}

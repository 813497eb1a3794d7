package ferrule.report.items;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class RaschScaleTest {

  /**
   * The model's difficulties of LSAT section 6 by marginal likelihood, with common slope 0.7551 and normal abilities: -3.6153,
   * -1.3224, -0.3176, -1.7301, -2.7802 (from memory; the likelihood at them was recomputed). In units of the logit and about
   * their mean they are those of the conditional likelihood but for the other way of estimating.
   */
  @Test
  void theLsatHasItsPublishedDifficulties() {
    double[] published = {-3.6153, -1.3224, -0.3176, -1.7301, -2.7802};
    double mean = 0;
    for (double b : published) {
      mean += 0.7551 * b / published.length;
    }
    RaschScale found = RaschScale.fit(ItemAnalysisTest.lsat6()).orElseThrow();
    for (int i = 0; i < published.length; i++) {
      assertEquals(0.7551 * published[i] - mean, found.difficulties().get(i), 0.02);
      assertTrue(found.standardErrors().get(i) > 0.05 && found.standardErrors().get(i) < 0.15);
    }
    assertEquals(0, found.difficulties().stream().mapToDouble(b -> b).sum(), 1e-9);
  }

  /** The conditional likelihood by its definition: the pattern's weight among all patterns with as many right. */
  private static double logLikelihood(Scores scores, List<Double> b) {
    double sum = 0;
    for (int person = 0; person < scores.persons(); person++) {
      int asked = 0;
      int right = 0;
      for (int i = 0; i < scores.items(); i++) {
        if (scores.asked(person, i)) {
          asked |= 1 << i;
          right |= scores.score(person, i) == 1 ? 1 << i : 0;
        }
      }
      double all = 0;
      for (int pattern = 0; pattern < 1 << scores.items(); pattern++) {
        if ((pattern & ~asked) == 0 && Integer.bitCount(pattern) == Integer.bitCount(right)) {
          all += weight(pattern, b);
        }
      }
      sum += Math.log(weight(right, b) / all);
    }
    return sum;
  }

  private static double weight(int pattern, List<Double> b) {
    double weight = 1;
    for (int i = 0; i < b.size(); i++) {
      weight *= (pattern >> i & 1) == 1 ? Math.exp(-b.get(i)) : 1;
    }
    return weight;
  }

  private static Scores simulated(SplittableRandom random, double[] b, int persons, double missing) {
    List<List<OptionalDouble>> rows = new ArrayList<>();
    for (int p = 0; p < persons; p++) {
      double ability = random.nextGaussian();
      List<OptionalDouble> row = new ArrayList<>();
      for (double difficulty : b) {
        boolean right = random.nextDouble() < 1 / (1 + Math.exp(difficulty - ability));
        row.add(random.nextDouble() < missing ? OptionalDouble.empty() : OptionalDouble.of(right ? 1 : 0));
      }
      rows.add(row);
    }
    return Scores.of(rows);
  }

  @Test
  void noDifficultiesNearTheEstimatesAreLikelier() {
    for (long seed = 0; seed < 10; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      Scores scores = simulated(random, new double[] {-1.2, -0.4, 0, 0.3, 1.3}, 60, 0.25);
      Optional<RaschScale> fitted = RaschScale.fit(scores);
      if (fitted.isPresent()) {
        RaschScale found = fitted.get();
        double best = logLikelihood(scores, found.difficulties());
        assertEquals(best, found.logLikelihood(), 1e-9);
        for (int i = 0; i < found.difficulties().size(); i++) {
          for (double step : new double[] {-0.01, 0.01}) {
            List<Double> other = new ArrayList<>(found.difficulties());
            other.set(i, other.get(i) + step);
            assertTrue(logLikelihood(scores, other) < best, "seed " + seed + ", item " + i);
          }
        }
      }
    }
  }

  @Test
  void trueDifficultiesAreFoundAsOftenAsTheErrorsSay() {
    double[] b = {-1.5, -0.9, -0.3, 0, 0.2, 0.7, 1.8};
    int within = 0;
    int all = 0;
    for (long seed = 100; seed < 160; seed++) {
      RaschScale found = RaschScale.fit(simulated(new SplittableRandom(seed), b, 300, 0.3)).orElseThrow();
      for (int i = 0; i < b.length; i++) {
        within += Math.abs(found.difficulties().get(i) - b[i]) < 1.96 * found.standardErrors().get(i) ? 1 : 0;
        all++;
      }
    }
    assertTrue(within > 0.92 * all && within < 0.98 * all, within + " of " + all);
  }

  /** As many parts as a whole programme asks about; the errors are those that the sums by definition give. */
  @Test
  void aHundredItemsAreFittedAsWellAsAFew() {
    double[] b = new double[100];
    for (int i = 0; i < b.length; i++) {
      b[i] = (i - 49.5) / 33;
    }
    RaschScale found = RaschScale.fit(simulated(new SplittableRandom(4), b, 60, 0)).orElseThrow();
    int within = 0;
    for (int i = 0; i < b.length; i++) {
      within += Math.abs(found.difficulties().get(i) - b[i]) < 1.96 * found.standardErrors().get(i) ? 1 : 0;
    }
    assertTrue(within >= 88, within + " of 100");
  }

  @Test
  void answersThatDoNotDetermineTheScaleGiveNone() {
    assertEquals(Optional.empty(), RaschScale.fit(Scores.ofPatterns(List.of("110", "101", "100"))), "all have the first right");
    assertEquals(Optional.empty(), RaschScale.fit(Scores.ofPatterns(List.of("11", "00"))), "nobody tells the two apart");
  }

  @Test
  void halfPointsAreRefused() {
    Scores half = Scores.of(List.of(List.of(OptionalDouble.of(0.5), OptionalDouble.of(1))));
    assertThrows(IllegalArgumentException.class, () -> RaschScale.fit(half));
  }
}

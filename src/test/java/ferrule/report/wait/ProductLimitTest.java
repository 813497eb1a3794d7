package ferrule.report.wait;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.report.wait.ProductLimit.Step;
import ferrule.report.wait.ProductLimit.Watched;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.stat.descriptive.rank.Percentile;
import org.hipparchus.stat.descriptive.rank.Percentile.EstimationType;
import org.junit.jupiter.api.Test;

class ProductLimitTest {

  private static List<Watched> watched(String... times) {
    List<Watched> all = new ArrayList<>();
    for (String time : times) {
      all.add(new Watched(Double.parseDouble(time.replace("+", "")), !time.endsWith("+")));
    }
    return all;
  }

  /**
   * Remissions in weeks of 21 patients, + where still in remission: E. J. Freireich and others, Blood 21 (1963). Shares and
   * standard deviations as the NAG Library Manual, Mark 28.4, prints them for g12aac (read); the data from memory.
   */
  @Test
  void thePublishedRemissionsHaveTheirSharesAndErrors() {
    ProductLimit found = ProductLimit.of(watched(
        "6", "6", "6", "6+", "7", "9+", "10", "10+", "11+", "13", "16", "17+", "19+", "20+", "22", "23", "25+", "32+", "32+",
        "34+", "35+"));
    double[] times = {6, 7, 10, 13, 16, 22, 23};
    double[] shares = {0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448};
    double[] errors = {0.076, 0.087, 0.096, 0.107, 0.114, 0.128, 0.135};
    for (int i = 0; i < times.length; i++) {
      Step step = found.steps().get(i);
      assertEquals(times[i], step.time());
      assertEquals(shares[i], step.waiting(), 5.1e-4);
      assertEquals(errors[i], step.error(), 5.1e-4);
    }
    assertEquals(9, found.ended());
    assertEquals(OptionalDouble.of(23), found.untilOnly(0.5));
    // 13 and no upper limit by the log-log transformation: from memory
    assertEquals(List.of(OptionalDouble.of(13), OptionalDouble.empty()), found.medianLimits());
  }

  /** V. Bewick and others, Statistics review 12, Critical Care 8 (2004), 389-394, table 2 (read). */
  @Test
  void thePublishedTableOfTheReviewIsReproduced() {
    ProductLimit found = ProductLimit.of(watched("1", "1", "4", "5", "6+", "9", "9+", "22"));
    double[] shares = {0.75, 0.625, 0.5, 0.333, 0};
    int[] atRisk = {8, 6, 5, 3, 1};
    for (int i = 0; i < shares.length; i++) {
      assertEquals(shares[i], found.steps().get(i).waiting(), 5e-4);
      assertEquals(atRisk[i], found.steps().get(i).atRisk());
    }
  }

  @Test
  void whereAllEndedItIsThePlainShareWithItsBinomialError() {
    for (long seed = 0; seed < 50; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      int n = 1 + random.nextInt(60);
      List<Watched> all = new ArrayList<>();
      for (int i = 0; i < n; i++) {
        all.add(new Watched(random.nextInt(20), true));
      }
      for (Step step : ProductLimit.of(all).steps()) {
        double share = all.stream().filter(w -> w.time() > step.time()).count() / (double) n;
        assertEquals(share, step.waiting(), 1e-9);
        assertEquals(Math.sqrt(share * (1 - share) / n), step.error(), 1e-9);
      }
    }
  }

  /** Recomputed by its definition, time by time over the plain list; the limits' distances are the library's quantile. */
  @Test
  void itIsTheProductOverAllEarlierTimesOnRandomWaits() {
    for (long seed = 0; seed < 100; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      List<Watched> all = new ArrayList<>();
      for (int i = 0; i < 1 + random.nextInt(40); i++) {
        all.add(new Watched(random.nextInt(25) / 2.0, random.nextInt(3) > 0));
      }
      ProductLimit found = ProductLimit.of(all);
      for (Step step : found.steps()) {
        double product = 1;
        double sum = 0;
        for (double t : all.stream().filter(Watched::ended).mapToDouble(Watched::time).distinct()
            .filter(t -> t <= step.time()).toArray()) {
          double n = all.stream().filter(w -> w.time() >= t).count();
          double d = all.stream().filter(w -> w.time() == t && w.ended()).count();
          product *= (n - d) / n;
          sum += d / (n * (n - d));
        }
        assertEquals(product, step.waiting(), 1e-9);
        if (step.waiting() > 0) {
          assertEquals(product * Math.sqrt(sum), step.error(), 1e-9);
          double logLog = Math.log(-Math.log(product));
          double half = Math.sqrt(sum) / Math.abs(Math.log(product));
          NormalDistribution normal = new NormalDistribution(logLog, half);
          assertEquals(Math.exp(-Math.exp(normal.inverseCumulativeProbability(0.975))), step.low(), 1e-9);
          assertEquals(Math.exp(-Math.exp(normal.inverseCumulativeProbability(0.025))), step.high(), 1e-9);
        }
      }
      assertEquals(all.stream().filter(Watched::ended).count(), found.ended());
    }
  }

  @Test
  void theIntervalHoldsTheTrueShareAboutNineteenTimesInTwenty() {
    SplittableRandom random = new SplittableRandom(3);
    int held = 0;
    int tests = 1_000;
    for (int test = 0; test < tests; test++) {
      List<Watched> all = new ArrayList<>();
      for (int i = 0; i < 60; i++) {
        double wait = -Math.log(1 - random.nextDouble());
        double watchedFor = 3 * random.nextDouble();
        all.add(new Watched(Math.min(wait, watchedFor), wait <= watchedFor));
      }
      Step last = null;
      for (Step step : ProductLimit.of(all).steps()) {
        last = step.time() <= 1 ? step : last;
      }
      held += last.low() <= Math.exp(-1) && Math.exp(-1) <= last.high() ? 1 : 0;
    }
    assertTrue(held > 0.925 * tests && held < 0.975 * tests, held + " of " + tests);
  }

  @Test
  void quartilesAreThoseOfTheLibrary() {
    for (long seed = 0; seed < 100; seed++) {
      double[] values = new SplittableRandom(seed).doubles(1 + seed, -5, 50).toArray();
      Percentile library = new Percentile().withEstimationType(EstimationType.R_7);
      Quartiles found = Quartiles.of(values).orElseThrow();
      assertEquals(library.evaluate(values, 25), found.lower(), 1e-9);
      assertEquals(library.evaluate(values, 50), found.median(), 1e-9);
      assertEquals(library.evaluate(values, 75), found.upper(), 1e-9);
      assertEquals(values.length, found.n());
    }
  }
}

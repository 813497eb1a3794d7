package ferrule.report.items;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.stat.correlation.Covariance;
import org.hipparchus.stat.correlation.PearsonsCorrelation;
import org.hipparchus.stat.descriptive.moment.Mean;
import org.hipparchus.stat.descriptive.moment.StandardDeviation;
import org.hipparchus.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;

class ItemAnalysisTest {

  /** Ten students by ten items: K. Wuensch, KR20.txt, East Carolina University (read). */
  private static final Scores TEN_BY_TEN =
      Scores.ofPatterns(
          List.of(
              "1111110110", "1011011101", "1111011001", "0010001000", "0000010010", "1110111111", "1101110111",
              "1111111101", "0101111101", "1101101110"));

  /** LSAT section 6, patterns and how often: R. D. Bock, M. Lieberman, Psychometrika 35, 1970 (read as reprinted). */
  private static final String LSAT_6 =
      "00000:3 00001:6 00010:2 00011:11 00100:1 00101:1 00110:3 00111:4 01000:1 01001:8 01011:16 01101:3 01110:2 01111:15 "
          + "10000:10 10001:29 10010:14 10011:81 10100:3 10101:28 10110:15 10111:80 11000:16 11001:56 11010:21 11011:173 "
          + "11100:11 11101:61 11110:28 11111:298";

  static Scores lsat6() {
    List<String> patterns = new ArrayList<>();
    for (String entry : LSAT_6.split(" ")) {
      String[] parts = entry.split(":");
      patterns.addAll(Collections.nCopies(Integer.parseInt(parts[1]), parts[0]));
    }
    return Scores.ofPatterns(patterns);
  }

  @Test
  void thePublishedTenByTenHasItsKr20() {
    Reliability found = Reliability.of(TEN_BY_TEN).orElseThrow();
    // the sum of pq is 2.18 and the variance of the totals 5.84, both with divisor n: 10/9 (1 - 2.18/5.84)
    assertEquals(0.69635, found.alpha(), 5e-6);
    assertEquals(Math.sqrt(5.84 * 10 / 9 * (1 - found.alpha())), found.standardError(), 1e-12);
  }

  @Test
  void thePublishedLsatHasItsDifficultiesCorrelationsAndKr20() {
    Scores lsat = lsat6();
    List<ItemFigures> items = ItemFigures.each(lsat);
    double[] marginals = {924, 709, 553, 763, 870};
    // corrected item-total correlations, computed from the published patterns
    double[] itemRest = {0.1128, 0.1532, 0.1728, 0.1444, 0.1216};
    for (int i = 0; i < items.size(); i++) {
      assertEquals(marginals[i] / 1000, items.get(i).difficulty(), 1e-12);
      assertEquals(itemRest[i], items.get(i).discrimination().orElseThrow(), 5e-5);
    }
    assertEquals(0.294997, Reliability.of(lsat).orElseThrow().alpha(), 5e-7);
  }

  @Test
  void correlationsAreThoseOfTheLibrarysRegressionOnRandomScores() {
    for (long seed = 0; seed < 50; seed++) {
      List<List<OptionalDouble>> rows = randomRows(new SplittableRandom(seed), 24, 9, 0.2);
      Scores scores = Scores.of(rows);
      for (int item = 0; item < scores.items(); item++) {
        SimpleRegression regression = new SimpleRegression();
        for (List<OptionalDouble> row : rows) {
          double rest = 0;
          int others = 0;
          for (int i = 0; i < row.size(); i++) {
            if (i != item && row.get(i).isPresent()) {
              rest += row.get(i).getAsDouble();
              others++;
            }
          }
          if (row.get(item).isPresent() && others > 0) {
            regression.addData(row.get(item).getAsDouble(), rest / others);
          }
        }
        assertEquals(regression.getR(), ItemFigures.of(scores, item).discrimination().orElse(Double.NaN), 1e-9);
      }
    }
  }

  /** Alpha from the library's covariances of items, difficulties from its means, Kuder and Richardson's formula by hand. */
  @Test
  void alphaAndDifficultiesAreThoseOfTheLibrarysCovariancesOnRandomScores() {
    for (long seed = 0; seed < 60; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      int k = 2 + random.nextInt(9);
      double[][] table = new double[3 + random.nextInt(40)][k];
      List<List<OptionalDouble>> rows = new ArrayList<>();
      for (double[] row : table) {
        for (int i = 0; i < k; i++) {
          row[i] = random.nextInt(3) / 2.0;
        }
        rows.add(Arrays.stream(row).mapToObj(OptionalDouble::of).toList());
      }
      Scores scores = Scores.of(rows);
      RealMatrix c = new Covariance(table).getCovarianceMatrix();
      double all = Arrays.stream(c.getData()).flatMapToDouble(Arrays::stream).sum();
      if (all > 1e-9) {
        Reliability found = Reliability.of(scores).orElseThrow();
        assertEquals(k / (k - 1.0) * (1 - c.getTrace() / all), found.alpha(), 1e-9);
        double sem = new StandardDeviation().evaluate(Arrays.stream(table).mapToDouble(row -> Arrays.stream(row).sum()).toArray())
            * Math.sqrt(Math.max(0, 1 - found.alpha()));
        assertEquals(sem, found.standardError(), 1e-9);
      }
      for (int i = 0; i < k; i++) {
        int item = i;
        double mean = new Mean().evaluate(Arrays.stream(table).mapToDouble(row -> row[item]).toArray());
        assertEquals(mean, ItemFigures.of(scores, i).difficulty(), 1e-9);
      }
    }
  }

  /**
   * Feldt's interval as the statistics wiki of the MRC Cognition and Brain Sciences Unit prints it for alpha 0.913 of 20
   * items and 873 persons (FAQ/cafun, read).
   */
  @Test
  void thePublishedIntervalOfAlphaIsReproduced() {
    Reliability twenty = Reliability.of(873, 20, 0.913, 0);
    assertEquals(0.9044024, twenty.low(), 5e-8);
    assertEquals(0.9211588, twenty.high(), 5e-8);
  }

  @Test
  void theLargestBlockHasNoGapAndNoneOfTheMostAskedIsLarger() {
    for (long seed = 0; seed < 60; seed++) {
      Scores scores = Scores.of(randomRows(new SplittableRandom(seed), 12, 6, 0.3));
      Scores block = scores.largestBlock();
      assertTrue(block.isComplete());
      List<Integer> byAsked = new ArrayList<>(List.of(0, 1, 2, 3, 4, 5));
      byAsked.sort(Comparator.comparingInt((Integer i) -> scores.onItem(i).length).reversed());
      int most = 0;
      for (int k = 1; k <= 6; k++) {
        int there = 0;
        for (int p = 0; p < scores.persons(); p++) {
          int person = p;
          there += byAsked.subList(0, k).stream().allMatch(i -> scores.asked(person, i)) ? 1 : 0;
        }
        most = Math.max(most, there * k);
      }
      assertEquals(most, block.persons() * block.items());
    }
  }

  private static List<List<OptionalDouble>> randomRows(SplittableRandom random, int persons, int items, double missing) {
    List<List<OptionalDouble>> rows = new ArrayList<>();
    for (int p = 0; p < persons; p++) {
      List<OptionalDouble> row = new ArrayList<>();
      for (int i = 0; i < items; i++) {
        boolean asked = random.nextDouble() >= missing;
        row.add(asked ? OptionalDouble.of(random.nextInt(3) / 2.0) : OptionalDouble.empty());
      }
      rows.add(row);
    }
    return rows;
  }

  /** Spearman's formula for the step-up of two halves is what alpha is for two items of equal variance. */
  @Test
  void ofTwoItemsOfEqualVarianceAlphaIsTheSteppedUpCorrelation() {
    Scores two = Scores.ofPatterns(List.of("11", "11", "10", "01", "00", "00", "11", "00"));
    double r = new PearsonsCorrelation().correlation(two.onItem(0), two.onItem(1));
    assertEquals(2 * r / (1 + r), Reliability.of(two).orElseThrow().alpha(), 1e-12);
  }

  @Test
  void theIntervalHoldsTheTrueAlphaNineteenTimesInTwenty() {
    SplittableRandom random = new SplittableRandom(5);
    int held = 0;
    int tests = 2_000;
    for (int test = 0; test < tests; test++) {
      List<List<OptionalDouble>> rows = new ArrayList<>();
      for (int p = 0; p < 20; p++) {
        // parallel parts: true alpha = k rho / (1 + (k - 1) rho); scaled so that scores lie from 0 to 1
        double person = random.nextGaussian();
        List<OptionalDouble> row = new ArrayList<>();
        for (int i = 0; i < 6; i++) {
          row.add(OptionalDouble.of(Math.max(0, Math.min(1, 0.5 + 0.04 * (person + random.nextGaussian())))));
        }
        rows.add(row);
      }
      Reliability found = Reliability.of(Scores.of(rows)).orElseThrow();
      double rho = 0.5;
      double alpha = 6 * rho / (1 + 5 * rho);
      held += found.low() <= alpha && alpha <= found.high() ? 1 : 0;
    }
    assertTrue(held > 0.935 * tests && held < 0.965 * tests, held + " of " + tests);
  }

  @Test
  void whatCannotBeSaidIsNotSaid() {
    assertEquals(Optional.empty(), Reliability.of(Scores.ofPatterns(List.of("11", "11"))), "all totals are the same");
    assertEquals(Optional.empty(), Reliability.of(Scores.ofPatterns(List.of("10"))), "one person");
    ItemFigures all = ItemFigures.of(Scores.ofPatterns(List.of("11", "10", "10")), 0);
    assertEquals(1, all.difficulty());
    assertEquals(OptionalDouble.empty(), all.discrimination(), "everybody has it right");
  }
}

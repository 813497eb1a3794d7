package ferrule.report.agreement;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.report.agreement.Agreement.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class KappaTest {

  private static final UUID STRICT = new UUID(1, 1);
  private static final UUID MILD = new UUID(1, 2);
  private static final UUID THIRD = new UUID(1, 3);

  private static Estimate cohen(int[][] table, CohenKappa.Weights weights) {
    return CohenKappa.of(table, weights).orElseThrow();
  }

  @Test
  void twoByTwoByHand() {
    // po 35/50 = 0.7; pe 0.5 x 0.6 + 0.5 x 0.4 = 0.5
    assertEquals(0.4, cohen(new int[][] {{20, 5}, {10, 15}}, CohenKappa.Weights.PLAIN).value(), 1e-12);
  }

  @Test
  void threeByThreePlainLinearQuadratic() {
    // values computed from the definition; the table from memory
    int[][] table = {{75, 1, 4}, {5, 4, 1}, {0, 0, 10}};
    assertEquals(0.67647, cohen(table, CohenKappa.Weights.PLAIN).value(), 5e-6);
    assertEquals(0.72222, cohen(table, CohenKappa.Weights.LINEAR).value(), 5e-6);
    assertEquals(0.75532, cohen(table, CohenKappa.Weights.QUADRATIC).value(), 5e-6);
  }

  @Test
  void largeSampleErrorsAndIntervalsAsAStatisticsProgramPrintsThem() {
    // the printout of another program's example, as read in the tests of statsmodels (test_inter_rater.py, BSD-3):
    // kappa, standard error, 95 % limits; plain and with linear weights
    int[][] table = {{0, 4, 1}, {0, 8, 0}, {0, 1, 5}};
    Estimate plain = cohen(table, CohenKappa.Weights.PLAIN);
    assertEquals(0.4842, plain.value(), 5e-5);
    assertEquals(0.1380, plain.error(), 5e-5);
    assertEquals(0.2137, plain.low(), 5e-5);
    assertEquals(0.7547, plain.high(), 5e-5);
    Estimate linear = cohen(table, CohenKappa.Weights.LINEAR);
    assertEquals(0.4701, linear.value(), 5e-5);
    assertEquals(0.1457, linear.error(), 5e-5);
    assertEquals(0.1845, linear.low(), 5e-5);
    assertEquals(0.7558, linear.high(), 5e-5);
  }

  // J. L. Fleiss, Psychological Bulletin 76 (1971), table 1: 30 subjects, 6 raters, 5 categories, as read in the tests of
  // statsmodels (test_inter_rater.py, BSD-3), each subject's six ratings in ascending order
  private static final String[] DIAGNOSES = {
    "444444", "222555", "233335", "555555", "222444", "113333", "333355", "113334", "114444", "555555", "144444",
    "124444", "222333", "144444", "224445", "333335", "111455", "111112", "224444", "133555", "555555", "244444",
    "224555", "114444", "144445", "222224", "111155", "224444", "133333", "555555"};

  private static int[][] counts(String[] ratings, int categories) {
    int[][] counts = new int[ratings.length][categories];
    for (int i = 0; i < ratings.length; i++) {
      for (char c : ratings[i].toCharArray()) {
        counts[i][c - '1']++;
      }
    }
    return counts;
  }

  @Test
  void fleissOwnExample() {
    Estimate kappa = FleissKappa.of(counts(DIAGNOSES, 5)).orElseThrow();
    // 0.430 in the paper; 0.4302445 as the R package irr prints it, quoted in the same tests
    assertEquals(0.4302445, kappa.value(), 5e-8);
    assertTrue(kappa.low() < 0.430 && kappa.high() > 0.430 && kappa.error() > 0.02 && kappa.error() < 0.1);
  }

  @Test
  void fourteenGradersTenPieces() {
    // rows from a general encyclopaedia's example, as read in the same tests; P 0.37802, Pe 0.21276 computed
    int[][] counts = {
      {0, 0, 0, 0, 14}, {0, 2, 6, 4, 2}, {0, 0, 3, 5, 6}, {0, 3, 9, 2, 0}, {2, 2, 8, 1, 1}, {7, 7, 0, 0, 0},
      {3, 2, 6, 3, 0}, {2, 5, 3, 2, 2}, {6, 5, 2, 1, 0}, {0, 2, 2, 3, 7}};
    assertEquals(0.37802, FleissKappa.agreement(counts), 5e-6);
    assertEquals(0.20993, FleissKappa.of(counts).orElseThrow().value(), 5e-6);
  }

  @Test
  void whoAlwaysChooseOneLevelHaveNoKappa() {
    assertEquals(Optional.empty(), FleissKappa.of(new int[][] {{2, 0}, {2, 0}, {2, 0}}));
    assertEquals(Optional.empty(), CohenKappa.of(new int[][] {{5, 0}, {0, 0}}, CohenKappa.Weights.PLAIN));
  }

  @Test
  void fullAgreementOnLittleWorkIsNotCertainty() {
    // Wilson's lower limit of 4 of 4 is 4 / (4 + 3.8415) = 0.5101; of chance 0.5 that leaves 0.0202
    Estimate four = cohen(new int[][] {{2, 0}, {0, 2}}, CohenKappa.Weights.PLAIN);
    assertEquals(1, four.value());
    assertEquals(0.0202, four.low(), 5e-5);
    assertEquals(0.0202, FleissKappa.of(new int[][] {{2, 0}, {2, 0}, {0, 2}, {0, 2}}).orElseThrow().low(), 5e-5);
  }

  @Test
  void whereEveryPieceSaysTheSameTheLimitsAreNotAPoint() {
    // ten pieces on three levels, whose standard error with linear weights comes out as 0
    Estimate level = cohen(new int[][] {{0, 0, 0}, {5, 0, 5}, {0, 0, 0}}, CohenKappa.Weights.LINEAR);
    assertEquals(0, level.value(), 1e-12);
    assertTrue(level.low() < -0.1 && level.high() > 0.1, level.toString());
    // a single piece on which two disagree, and two pieces of which they agree on one
    assertTrue(cohen(new int[][] {{0, 1}, {0, 0}}, CohenKappa.Weights.PLAIN).high() > 0.5);
    Estimate two = FleissKappa.of(new int[][] {{1, 1}, {2, 0}}).orElseThrow();
    assertEquals(-1, two.low());
    assertEquals(1, two.high());
  }

  @Property(tries = 200)
  void kappaIsOneWithoutDisagreementAndDoesNotCareWhoIsFirst(@ForAll long seed) {
    Random random = new Random(seed);
    int levels = 2 + random.nextInt(4);
    int[][] agreeing = new int[levels][levels];
    int[][] table = new int[levels][levels];
    int[][] turned = new int[levels][levels];
    for (int i = 0; i < levels; i++) {
      agreeing[i][i] = 1 + random.nextInt(9);
      for (int j = 0; j < levels; j++) {
        table[i][j] = 1 + random.nextInt(9);
        turned[j][i] = table[i][j];
      }
    }
    for (CohenKappa.Weights w : CohenKappa.Weights.values()) {
      assertEquals(1, cohen(agreeing, w).value(), 1e-9);
      assertEquals(cohen(table, w).value(), cohen(turned, w).value(), 1e-9);
      assertEquals(cohen(table, w).error(), cohen(turned, w).error(), 1e-9);
    }
  }

  @Test
  void theIntervalHoldsTheTrueKappaAboutAsOftenAsItSays() {
    // two graders who copy the truth with chance 0.8 and guess otherwise among three equal levels: true kappa 0.64
    Random random = new Random(7);
    int held = 0;
    int heldByFleiss = 0;
    int samples = 1_000;
    for (int s = 0; s < samples; s++) {
      int[][] table = new int[3][3];
      int[][] counts = new int[60][3];
      for (int i = 0; i < 60; i++) {
        int truth = random.nextInt(3);
        int a = random.nextDouble() < 0.8 ? truth : random.nextInt(3);
        int b = random.nextDouble() < 0.8 ? truth : random.nextInt(3);
        table[a][b]++;
        counts[i][a]++;
        counts[i][b]++;
      }
      Estimate cohen = cohen(table, CohenKappa.Weights.PLAIN);
      Estimate fleiss = FleissKappa.of(counts).orElseThrow();
      held += cohen.low() <= 0.64 && 0.64 <= cohen.high() ? 1 : 0;
      heldByFleiss += fleiss.low() <= 0.64 && 0.64 <= fleiss.high() ? 1 : 0;
    }
    assertEquals(0.95, (double) held / samples, 0.03);
    assertEquals(0.95, (double) heldByFleiss / samples, 0.03);
  }

  private static List<Rating> graded(int works, int... levelsOf) {
    List<Rating> ratings = new ArrayList<>();
    List<UUID> graders = List.of(STRICT, MILD, THIRD);
    for (int i = 0; i < works; i++) {
      for (int g = 0; g < levelsOf.length; g++) {
        int level = Math.min(3, levelsOf[g] + i % 2);
        ratings.add(new Rating(new UUID(9, i), "task/seat", graders.get(g), level, 4));
      }
    }
    return ratings;
  }

  @Test
  void theStricterIsFoundWithHowMuch() {
    // one level of the three steps lower on every piece: 33.3 hundredths
    Agreement agreement = Agreement.of(graded(12, 1, 2));
    Agreement.Severity strictest = agreement.severities().get(0);
    assertEquals(STRICT, strictest.grader());
    assertEquals(-100.0 / 3, strictest.difference().orElseThrow().value(), 1e-9);
    assertTrue(strictest.isClear());
    assertEquals(12, agreement.criteria().get(0).works());
    assertEquals(1, agreement.criteria().get(0).pairs().size());
  }

  @Test
  void littleWorkIsNotJudged() {
    Agreement agreement = Agreement.of(graded(Agreement.ENOUGH - 1, 1, 2));
    assertEquals(Reading.TOO_FEW, agreement.criteria().get(0).reading());
    assertTrue(agreement.severities().stream().noneMatch(Agreement.Severity::isClear));
  }

  @Test
  void workThatOneGraderSawSaysNothing() {
    assertEquals(List.of(), Agreement.of(graded(12, 1)).criteria());
    assertEquals(List.of(), Agreement.of(graded(12, 1)).severities());
  }

  @Test
  void theReadingFollowsTheInterval() {
    Optional<Estimate> good = Optional.of(new Estimate(0.8, 0.05, 0.7, 0.9, 40));
    Optional<Estimate> poor = Optional.of(new Estimate(0.2, 0.05, 0.1, 0.3, 40));
    Optional<Estimate> open = Optional.of(new Estimate(0.5, 0.1, 0.3, 0.7, 40));
    assertEquals(Reading.GOOD, Reading.of(40, 0.85, good));
    assertEquals(Reading.POOR, Reading.of(40, 0.4, poor));
    assertEquals(Reading.OPEN, Reading.of(40, 0.6, open));
    assertEquals(Reading.ONE_LEVEL, Reading.of(40, 0.95, poor));
    assertEquals(Reading.ONE_LEVEL, Reading.of(40, 1, Optional.empty()));
  }

  @Test
  void threeGradersMakeThreePairs() {
    Agreement.OfCriterion criterion = Agreement.of(graded(12, 1, 2, 1)).criteria().get(0);
    assertEquals(3, criterion.pairs().size());
    assertTrue(criterion.pairs().stream().allMatch(p -> p.works() == 12));
    assertEquals(1.0 / 3, criterion.agreeing(), 1e-9);
  }
}

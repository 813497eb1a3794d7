package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.hipparchus.distribution.continuous.BetaDistribution;
import org.junit.jupiter.api.Test;

class ForecastTest {

  /** How many of the histories that the coverage is counted over. */
  private static final int HISTORIES = 20_000;

  @Test
  void theBoundsAreThoseOfTheTableOfF() {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.3, upper 10 % points: F(10, 11) is 2.248; from memory
    Forecast forecast = new Forecast(5, 5, 100);
    assertEquals(100 * 5 / 5.5 * 2.248, forecast.daysUntil(0.9), 0.05);
  }

  @Test
  void theNextStepFollowsThePowerLaw() {
    // with one step left the quotient of the gamma variables is Lomax's: (t / (t + w)) to the power of k + 1/2
    Forecast forecast = new Forecast(8, 1, 90);
    for (double within : new double[] {0.5, 3, 10, 90, 1_000}) {
      assertEquals(1 - Math.pow(90 / (90 + within), 8.5), forecast.chanceWithin(within), 1e-12);
    }
  }

  @Test
  void itIsTheBetaDistributionOfHipparchusToNineDigits() {
    SplittableRandom random = new SplittableRandom(1);
    for (int i = 0; i < 2_000; i++) {
      Forecast f = new Forecast(random.nextInt(80), 1 + random.nextInt(80), 1 + random.nextInt(700));
      BetaDistribution beta = new BetaDistribution(f.left(), f.done() + 0.5);
      double within = random.nextInt(1, 900);
      assertEquals(beta.cumulativeProbability(within / (f.days() + within)), f.chanceWithin(within), 1e-9);
      double chance = random.nextDouble(0.05, 0.95);
      assertEquals(chance, f.chanceWithin(f.daysUntil(chance)), 1e-6, f.toString());
    }
  }

  /** How many of the intervals of eight in ten hold what then happens, at a rate and with gaps drawn so. */
  private static double covered(double stepsInSight, int left, DoubleUnaryOperator gap) {
    SplittableRandom random = new SplittableRandom(7);
    int held = 0;
    int told = 0;
    double days = 100;
    double mean = days / stepsInSight;
    for (int i = 0; i < HISTORIES; i++) {
      int done = 0;
      // as if it had gone on so for ever: the first gap is cut at a random place
      double at = random.nextDouble() * gap.applyAsDouble(random.nextDouble()) * mean;
      while (at < days) {
        done++;
        at += gap.applyAsDouble(random.nextDouble()) * mean;
      }
      for (int more = 1; more < left; more++) {
        at += gap.applyAsDouble(random.nextDouble()) * mean;
      }
      if (done >= Course.ENOUGH_STEPS) {
        told++;
        double chance = new Forecast(done, left, days).chanceWithin(at - days);
        held += chance >= Course.TAIL && chance <= 1 - Course.TAIL ? 1 : 0;
      }
    }
    return (double) held / told;
  }

  @Test
  void eightOfTenIntervalsHoldWhatHappensIfStepsComeAtRandom() {
    DoubleUnaryOperator exponential = u -> -Math.log1p(-u);
    for (int left : new int[] {3, 12, 40}) {
      for (double steps : new double[] {12, 25, 60}) {
        double covered = covered(steps, left, exponential);
        assertEquals(0.8, covered, 0.025, steps + " steps seen, " + left + " left");
      }
    }
  }

  @Test
  void moreThanEightOfTenDoIfStepsComeAtEvenDistances() {
    double covered = covered(25, 12, u -> 0.7 + 0.6 * u);
    assertTrue(covered > 0.95, "covered " + covered);
  }

  @Test
  void fewerThanEightOfTenDoIfStepsComeInLots() {
    // half of the steps come together with the one before
    double covered = covered(25, 12, u -> u < 0.5 ? 0 : -2 * Math.log1p(-(u - 0.5) * 2));
    assertTrue(covered > 0.5 && covered < 0.65, "covered " + covered);
  }

  @Test
  void nothingIsForetoldOfWhatIsDone() {
    assertThrows(IllegalArgumentException.class, () -> new Forecast(3, 0, 10));
    assertThrows(IllegalArgumentException.class, () -> new Forecast(3, 1, 0));
    assertEquals(0, new Forecast(3, 1, 10).chanceWithin(0));
  }
}

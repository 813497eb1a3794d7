package ferrule.drill.known;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class KnownModelTest {

  private static final Instant NOON = Instant.parse("2026-10-05T12:00:00Z");
  private static final KnownModel MODEL = KnownModel.standard();
  private static final KnownModel.Constants START = MODEL.constants();

  private static Instant after(double days) {
    return NOON.plus(Duration.ofMinutes(Math.round(days * 24 * 60)));
  }

  private static Optional<Trace> holding(double days, double deviation) {
    return Optional.of(new Trace(Belief.of(Math.log(days), deviation), 3, NOON, false));
  }

  private static Belief answered(Optional<Trace> trace, Asking asking, double credit, Instant at) {
    return MODEL.after(START.ability(), START.difficulty(), trace, asking, credit, at).trace().hold();
  }

  private static double chance(Optional<Trace> trace, Instant at) {
    return MODEL.chance(MODEL.hold(START.ability(), START.difficulty(), trace), trace, at).likely();
  }

  @Test
  void aResponseIsExplainedByKnowingOrGuessing() {
    // knowledge tracing, Corbett and Anderson 1995: known .4, slip .1, guess .2; the posteriors are computed from it
    double right = Asking.right(0.4, 0.2, 0.1);
    assertEquals(0.75, 0.4 * (1 - 0.1) / right, 1e-12);
    assertEquals(0.076923, 0.4 * 0.1 / (1 - right), 1e-6);
  }

  @Test
  void forgettingIsTheRetrievalEquationOfOneTrace() {
    // base level of ACT-R: one use at t = 16 with d = .5 gives -1.386294; here d = s, in days
    double base = PowerTraces.baseLevel(List.of(16.0), List.of(0.5), List.of(1.0));
    assertEquals(-1.386294, base, 1e-6);
    double threshold = -0.9;
    double retrieved = 1 / (1 + Math.exp(-(base - threshold) / 0.5));
    double hold = Math.exp(-threshold / 0.5);
    assertEquals(retrieved, chance(holding(hold, 1e-4), after(16)), 1e-6);
  }

  @Test
  void anUpdateIsThatOfARatingWithItsDeviation() {
    // M. Glickman's example of Glicko-1: 1500 with RD 200 beats 1400/30, loses to 1550/100 and 1700/300, giving
    // 1464.106 and 151.399. Glicko takes the three at once and approximates the integral: its deviation is a twentieth
    // smaller than the exact one.
    double q = Math.log(10) / 400;
    Belief player = Belief.of(1500 * q, 200 * q);
    double[][] games = {{1400, 30, 1}, {1550, 100, 0}, {1700, 300, 0}};
    for (double[] g : games) {
      Belief difference = player.minus(Belief.of(g[0] * q, g[1] * q));
      Belief seen =
          NormalRule.posterior(difference, x -> KnownModel.logistic(g[2] == 1 ? x : -x), x -> x);
      player = KnownModel.share(player, 1, difference, seen);
    }
    assertEquals(1464.106, player.mean() / q, 3);
    assertEquals(151.399, player.deviation() / q, 8);
  }

  @Test
  void afterTheHoldOneNameOfTwoIsLeft() {
    assertEquals(0.5, chance(holding(9, 1), after(9)), 1e-9);
  }

  @Test
  void aRightGuessProvesLessThanATypedName() {
    Optional<Trace> trace = holding(2, 1.5);
    double typed = answered(trace, Asking.named(), 1, after(5)).mean();
    double chosen = answered(trace, Asking.chosenAmong(4), 1, after(5)).mean();
    double tossed = answered(trace, Asking.chosenAmong(2), 1, after(5)).mean();
    assertTrue(typed > chosen && chosen > tossed, typed + " " + chosen + " " + tossed);
  }

  @Test
  void aWrongChoiceProvesMoreThanAMissingName() {
    Optional<Trace> trace = holding(2, 1.5);
    double chosen = answered(trace, Asking.chosenAmong(4), 0, after(5)).mean();
    double typed = answered(trace, Asking.named(), 0, after(5)).mean();
    assertTrue(chosen < typed, chosen + " " + typed);
  }

  @Test
  void aPartOfThePointLiesBetweenRightAndWrong() {
    Optional<Trace> trace = holding(4, 1);
    double wrong = answered(trace, Asking.named(), 0, after(4)).mean();
    double half = answered(trace, Asking.named(), 0.5, after(4)).mean();
    double right = answered(trace, Asking.named(), 1, after(4)).mean();
    assertTrue(wrong < half && half < right, wrong + " " + half + " " + right);
  }

  @Test
  void practiceAfterAPauseAddsMoreThanPracticeAtOnce() {
    Optional<Trace> trace = holding(3, 0.7);
    double before = Math.log(3);
    double atOnce = answered(trace, Asking.named(), 1, after(0.002)).mean() - before;
    double later = answered(trace, Asking.named(), 1, after(3)).mean() - before;
    assertTrue(atOnce < 0.05 && later > 1, atOnce + " " + later);
  }

  @Test
  void readingTheRightNameHelpsEvenAfterAMiss() {
    Instant at = after(10);
    Optional<Trace> trace = holding(1, 1);
    Trace missed = MODEL.after(START.ability(), START.difficulty(), trace, Asking.named(), 0, at).trace();
    assertTrue(chance(Optional.of(missed), at.plus(Duration.ofDays(1))) > chance(trace, at.plus(Duration.ofDays(1))));
  }

  @Test
  void theFirstAnswerMovesAbilityAndDifficultyAndLaterOnesDoNot() {
    KnownModel.Learned first =
        MODEL.after(START.ability(), START.difficulty(), Optional.empty(), Asking.named(), 1, NOON);
    assertTrue(first.ability().mean() > START.ability().mean());
    assertTrue(first.difficulty().mean() < START.difficulty().mean());
    assertTrue(first.difficulty().variance() < START.difficulty().variance());
    KnownModel.Learned second =
        MODEL.after(first.ability(), first.difficulty(), Optional.of(first.trace()), Asking.named(), 0, after(2));
    assertEquals(first.ability(), second.ability());
    assertEquals(first.difficulty(), second.difficulty());
    assertEquals(2, second.trace().asked());
  }

  @Test
  void answersMakeTheChanceSurer() {
    Optional<Trace> trace = Optional.empty();
    Chance before = MODEL.chance(MODEL.hold(START.ability(), START.difficulty(), trace), trace, NOON);
    for (int i = 0; i < 6; i++) {
      trace =
          Optional.of(
              MODEL.after(START.ability(), START.difficulty(), trace, Asking.named(), 1, after(4 * i)).trace());
    }
    Chance later = MODEL.chance(trace.get().hold(), trace, after(24));
    assertTrue(before.isUnsure());
    assertTrue(later.likely() > 0.85 && later.high() - later.low() < 0.25, later.toString());
  }

  @Test
  void aChanceLiesBetweenItsBounds() {
    for (double days : new double[] {0.01, 1, 30, 400}) {
      Optional<Trace> trace = holding(5, 1.2);
      Chance c = MODEL.chance(trace.get().hold(), trace, after(days));
      assertTrue(c.low() < c.likely() && c.likely() < c.high(), c.toString());
    }
  }

  @Test
  void aClockThatRunsBackIsTakenAsNoTimeAtAll() {
    assertEquals(chance(holding(5, 1), NOON), chance(holding(5, 1), NOON.minusSeconds(3600)), 0);
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Belief(0, 0));
    assertThrows(IllegalArgumentException.class, () -> new Belief(Double.NaN, 1));
    assertThrows(IllegalArgumentException.class, () -> Asking.chosenAmong(1));
    assertThrows(IllegalArgumentException.class, () -> new Chance(0.5, 0.6, 0.4));
  }
}

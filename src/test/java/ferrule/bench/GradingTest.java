package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class GradingTest {

  private static Entries waterKey(String criterion, int level) {
    Entries sound = Samples.soundWaterKey();
    Map<String, Integer> levels = new HashMap<>(sound.levels());
    levels.put(criterion, level);
    return new Entries(true, levels, sound.readings(), sound.lowers(), sound.uppers(), "", "");
  }

  private static Outcome outcome(Entries entries) {
    Task task = Samples.waterKey();
    return Outcome.of(Grading.of(task, entries).findings(), task.passPercent());
  }

  @Test
  void workThatPassesEverywhereAndIsBelowItsBestSomewhereIsSound() {
    assertEquals(Standing.SOUND, outcome(Samples.soundWaterKey()).standing());
  }

  @Test
  void workThatCouldNotBeBetterIsFine() {
    assertEquals(Standing.FINE, outcome(waterKey("cup-clean", 4)).standing());
  }

  @Test
  void oneCriticalCriterionKeepsTheWorkFromTheStandard() {
    Outcome outcome = outcome(waterKey("seal", 1));
    assertEquals(Standing.NOT_YET, outcome.standing());
    assertTrue(outcome.reasons().get(0).startsWith("Seal under air is critical and does not pass"), "" + outcome);
  }

  @Test
  void aMinorSlipDoesNotTwoDo() {
    // weights 1 2 3 3 2 1, pass at 80 %: without the cup 11 of 12; without cup and spring 9 of 12
    assertEquals(Standing.SOUND, outcome(waterKey("cup-clean", 2)).standing());
    Entries one = waterKey("cup-clean", 2);
    Map<String, Integer> levels = new HashMap<>(one.levels());
    levels.put("spring", 2);
    Outcome two = outcome(new Entries(true, levels, one.readings(), one.lowers(), one.uppers(), "", ""));
    assertEquals(Standing.NOT_YET, two.standing());
    assertEquals("criteria worth 9 of 12 pass; the task asks for 80 % of them", two.reasons().get(0));
    assertEquals(3, two.reasons().size());
  }

  @Test
  void anUndecidedReadingDoesNotPass() {
    Entries sound = Samples.soundWaterKey();
    Grading grading = Grading.of(
        Samples.waterKey(),
        new Entries(true, sound.levels(), Map.of("opening", "4.01"), sound.lowers(), sound.uppers(), "", ""));
    Finding opening = grading.findings().get(5);
    assertFalse(opening.passes());
    assertTrue(opening.sentence().endsWith("read it again on a finer gauge"), opening.sentence());
  }

  @Test
  void aReadingWithoutLimitsWaitsForTheInstructorsOwn() {
    Entries sound = Samples.soundWaterKey();
    Grading.Line line = Grading.of(
        Samples.waterKey(), new Entries(true, sound.levels(), sound.readings(), Map.of(), Map.of(), "", ""))
        .lines().get(5);
    assertEquals("Set a lower limit, an upper limit, or both.", line.open());
    assertFalse(line.faulty());
  }

  @Test
  void whatCannotBeReadIsSaidAndKept() {
    Entries sound = Samples.soundWaterKey();
    Grading grading = Grading.of(
        Samples.waterKey(),
        new Entries(true, sound.levels(), Map.of("opening", "wide"), sound.lowers(), sound.uppers(), "", ""));
    assertTrue(grading.lines().get(5).faulty());
    assertFalse(grading.isComplete());
  }

  @Test
  void publishedLimitsAreNotTheInstructorsToSet() {
    // common practice, no standard: clearance on the diameter up to 0.0015 in; a micrometer that reads to 0.0001 in
    Criterion.Measured clearance = (Criterion.Measured) Samples.valves().criteria().get(1);
    assertFalse(clearance.limitsBelongToInstructor());
    Limits limits = clearance.limits().orElseThrow();
    assertEquals(Conformity.CONFORMING, clearance.measured(Reading.parse("0.001", Unit.INCH), limits).verdict());
    assertEquals(Conformity.CONFORMING, clearance.measured(Reading.parse("0.025 mm", Unit.INCH), limits).verdict());
    assertEquals(Conformity.UNDECIDED, clearance.measured(Reading.parse("0.0015", Unit.INCH), limits).verdict());
    assertEquals(Conformity.NOT_CONFORMING, clearance.measured(Reading.parse("0.002", Unit.INCH), limits).verdict());
  }

  @Test
  void nothingIsGradedBeforeTheCautionsAreConfirmed() {
    Entries s = Samples.soundWaterKey();
    Entries unconfirmed = new Entries(false, s.levels(), s.readings(), s.lowers(), s.uppers(), "", "");
    assertThrows(
        IllegalStateException.class,
        () -> Grade.of(UUID.randomUUID(), "Invented", Samples.waterKey(), "T-01", unconfirmed));
  }

  @Test
  void aCorrectionStartsFromWhatWasEntered() {
    Grade grade = Samples.soundGrade(UUID.randomUUID(), "T-03");
    Entries again = grade.asEntries(Samples.waterKey());
    assertEquals(grade, Grade.of(grade.apprentice(), grade.apprenticeName(), Samples.waterKey(), "T-03", again));
  }

  @Test
  void entriesSurviveBeingKept() {
    Entries entries = new Entries(
        true, Map.of("seat", 2), Map.of("opening", " 2,5 mm "), Map.of(), Map.of("opening", ""),
        "Line one\r\nline two\u0000\u0007 \ud83c\udfba \ud83c", "");
    assertEquals(entries, Entries.fromJson(entries.toJson()));
    assertEquals("Line one\nline two \ud83c\udfba", entries.note());
    assertEquals(Map.of("opening", "2,5 mm"), entries.readings());
    assertTrue(entries.uppers().isEmpty());
  }
}

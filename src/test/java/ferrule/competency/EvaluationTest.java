package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class EvaluationTest {

  private static final UUID APPRENTICE = new UUID(0, 1);
  private static final TaskId KEYS = TaskId.of("keys");
  private static final TaskId SLIDES = TaskId.of("slides");
  private static final ConceptId BELL = ConceptId.of("bell");
  private static final ZonedDateTime NOW = ZonedDateTime.of(2026, 11, 25, 12, 0, 0, 0, ZoneOffset.UTC);
  private static final int PARTS = 5;

  private int serial;

  private SignedWork work(TaskId task, Standing standing, String tag, int instructor, ZonedDateTime at) {
    serial++;
    return new SignedWork(
        new UUID(1, serial), serial, APPRENTICE, task, tag, new UUID(2, instructor), "Invented " + instructor,
        at.toInstant(), standing);
  }

  private SignedWork work(TaskId task, Standing standing, String tag, int instructor) {
    return work(task, standing, tag, instructor, NOW.minusDays(30).plusMinutes(serial));
  }

  private static Requirement.Signed signed(int times, int instruments, int instructors) {
    return new Requirement.Signed(KEYS, "Water keys", Standing.SOUND, times, instruments, instructors);
  }

  private static Requirement.Signed signed(int times, Counting counting) {
    return new Requirement.Signed(KEYS, "Water keys", Standing.SOUND, times, 1, 1, counting);
  }

  private static Counting counting(Counting.Order order) {
    return new Counting(order, Optional.empty(), Optional.empty());
  }

  private static Counting noOlder(String span) {
    return new Counting(Counting.Order.BEST, Optional.empty(), Optional.of(Span.parse(span)));
  }

  private static Evidence evidence(List<SignedWork> works, PartsNamed named) {
    return new Evidence(works, assembly -> named, List.of(), List.of(), NOW);
  }

  private static Verdict verdict(Requirement rule, List<SignedWork> works) {
    return Evaluation.of(rule, evidence(works, new PartsNamed(0, 0, PARTS)));
  }

  private static BenchHours hours(LocalDate day, int minutes) {
    return new BenchHours(
        UUID.randomUUID(), APPRENTICE, day, minutes, "", new UUID(2, 1), "Invented", NOW.toInstant(), Optional.empty(), "");
  }

  @Test
  void oneMoreOnASecondInstrumentByAnotherInstructor() {
    Verdict verdict = verdict(
        signed(3, 2, 2), List.of(work(KEYS, Standing.SOUND, "T-01", 1), work(KEYS, Standing.FINE, "T-01", 1)));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, on a second instrument, by another instructor.",
        verdict.sentence());
    assertEquals(2, verdict.works().size());
    assertTrue(verdict.isBegun());
  }

  @Test
  void whatIsMissingIsSaidSoThatAnApprenticeUnderstands() {
    assertEquals("Missing: one sign-off of “Water keys”.", verdict(signed(1, 1, 1), List.of()).sentence());
    assertEquals(
        "Missing: three sign-offs of “Water keys”, on two different instruments, by two different instructors.",
        verdict(signed(3, 2, 2), List.of()).sentence());
    assertEquals(
        "Missing: two more sign-offs of “Water keys”, one of them on a second instrument, one of them by another "
            + "instructor.",
        verdict(signed(3, 2, 2), List.of(work(KEYS, Standing.SOUND, "T-01", 1))).sentence());
    assertEquals("Complete.", verdict(signed(1, 1, 1), List.of(work(KEYS, Standing.SOUND, "T-01", 1))).sentence());
    assertEquals(
        "Missing: 2 more names of the parts of the bell (2 of 5 right by now, 4 needed).",
        Evaluation.of(
            new Requirement.Names(BELL, "bell", 80), evidence(List.of(), new PartsNamed(2, 3, PARTS))).sentence());
    assertEquals(
        "Missing: two sign-offs of “Water keys”, on two different instruments.",
        verdict(signed(1, 2, 1), List.of()).sentence());
  }

  @Test
  void workThatDoesNotMeetTheStandardDoesNotCount() {
    Verdict verdict = verdict(signed(1, 1, 1), List.of(work(KEYS, Standing.NOT_YET, "T-01", 1)));
    assertFalse(verdict.isMet());
    assertEquals(List.of(), verdict.works());
  }

  @Test
  void enoughSignOffsOnOneInstrumentAskForOneOnAnother() {
    List<SignedWork> works = List.of(
        work(KEYS, Standing.SOUND, "T-01", 1), work(KEYS, Standing.SOUND, "T-01", 2),
        work(KEYS, Standing.SOUND, "T-01", 1));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, on a second instrument.", verdict(signed(3, 2, 2), works).sentence());
  }

  @Test
  void theShorterWayIsTold() {
    Requirement rule = new Requirement.AtLeast(
        1, List.of(signed(3, 1, 1), new Requirement.Signed(SLIDES, "Slides", Standing.FINE, 1, 1, 1)));
    assertEquals("Missing: one sign-off of “Slides” as fine.", verdict(rule, List.of()).sentence());
  }

  @Test
  void aTaskThatTwoRulesAskForIsNotCountedTwice() {
    Requirement rule = new Requirement.AllOf(
        List.of(signed(2, 1, 1), new Requirement.Signed(KEYS, "Water keys", Standing.FINE, 1, 1, 1)));
    Verdict verdict = verdict(rule, List.of());
    assertEquals(
        "Missing: two sign-offs of “Water keys”; and one sign-off of “Water keys” as fine. One sign-off can serve for "
            + "both.",
        verdict.sentence());
  }

  @Test
  void theLatestWorkCountsUntilSomethingFallsShort() {
    List<SignedWork> works = new ArrayList<>(
        List.of(work(KEYS, Standing.SOUND, "T-01", 1), work(KEYS, Standing.SOUND, "T-01", 1)));
    Requirement rule = signed(2, counting(Counting.Order.LATEST));
    assertTrue(verdict(rule, works).isMet());
    works.add(work(KEYS, Standing.NOT_YET, "T-01", 1));
    assertEquals(
        "Missing: two sign-offs of “Water keys”, with nothing that falls short in between.",
        verdict(rule, works).sentence());
    works.add(work(KEYS, Standing.SOUND, "T-01", 1));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, with nothing that falls short in between.",
        verdict(rule, works).sentence());
    assertTrue(verdict(signed(3, Counting.ALL), works).isMet(), "the best three are good enough");
    assertTrue(verdict(signed(2, counting(Counting.Order.CONSECUTIVE)), works).isMet(), "the first two are in a row");
    assertFalse(verdict(signed(3, counting(Counting.Order.CONSECUTIVE)), works).isMet());
  }

  @Test
  void whatIsMissingElsewhereDoesNotUndoTheLatestWork() {
    // fine the last time; two further sound ones would undo that, so that fine ones are asked
    Requirement rule = new Requirement.AllOf(List.of(
        new Requirement.Signed(KEYS, "Water keys", Standing.FINE, 1, 1, 1, counting(Counting.Order.LATEST)),
        signed(3, 1, 1)));
    assertEquals(
        "Missing: two more sign-offs of “Water keys” as fine.",
        verdict(rule, List.of(work(KEYS, Standing.FINE, "T-01", 1))).sentence());
  }

  @Test
  void aWindowHoldsWorkTogether() {
    Counting month = new Counting(Counting.Order.BEST, Optional.of(Span.parse("1 month")), Optional.empty());
    List<SignedWork> works = new ArrayList<>(List.of(
        work(KEYS, Standing.SOUND, "T-01", 1, NOW.minusDays(60)), work(KEYS, Standing.SOUND, "T-01", 1, NOW.minusDays(20))));
    assertEquals(
        "Missing: one more sign-off of “Water keys”, all within one month.", verdict(signed(2, month), works).sentence());
    works.add(work(KEYS, Standing.SOUND, "T-01", 1, NOW.minusDays(80)));
    assertTrue(verdict(signed(2, month), works).isMet(), "80 and 60 days ago lie within a month");
  }

  @Test
  void aSkillThatKeepsSafeIsToBeShownAgain() {
    List<SignedWork> works = List.of(work(KEYS, Standing.SOUND, "T-01", 1, NOW.minusMonths(12).minusDays(1)));
    Verdict verdict = verdict(signed(1, noOlder("12 months")), works);
    assertEquals(
        "Missing: one new sign-off of “Water keys”, because the last, of 24 November 2025, is older than twelve months.",
        verdict.sentence());
    assertTrue(verdict.isLapsed());
    assertTrue(verdict(signed(1, noOlder("13 months")), works).isMet());
  }

  @Test
  void hoursAtTheBenchAddUpAndAreCorrected() {
    BenchHours wrong = hours(LocalDate.of(2026, 11, 3), 600);
    BenchHours right = new BenchHours(
        UUID.randomUUID(), APPRENTICE, wrong.day(), 150, "", new UUID(2, 1), "Invented", NOW.toInstant(),
        Optional.of(wrong.id()), "Ten hours were typed for an evening.");
    List<BenchHours> entries = BenchHours.counting(List.of(hours(LocalDate.of(2026, 11, 1), 180), wrong, right));
    Verdict verdict = Evaluation.of(
        new Requirement.Hours(40, Optional.empty()),
        new Evidence(List.of(), a -> new PartsNamed(0, 0, 1), entries, List.of(), NOW));
    assertEquals("Missing: 34 h 30 min more at the bench (5 h 30 min of 40 by now).", verdict.sentence());
    assertEquals(
        "Missing: 37 h 30 min more at the bench, none longer ago than 23 days (2 h 30 min of 40 by now).",
        Evaluation.of(
            new Requirement.Hours(40, Optional.of(Span.parse("23 days"))),
            new Evidence(List.of(), a -> new PartsNamed(0, 0, 1), entries, List.of(), NOW)).sentence());
  }

  private static Programme programme(Requirement first, Requirement second) {
    return new Programme("p", "P", "e", "text", List.of(new Area("a", "A", List.of(
        new Competency("first", "Soldering", "Solders.", OptionalInt.empty(), first),
        new Competency("second", "Braces", "Sets braces.", OptionalInt.empty(), second)))));
  }

  @Test
  void whatComesFirstIsPartOfWhatIsMissing() {
    Programme programme = programme(
        signed(1, 1, 1),
        new Requirement.AllOf(List.of(
            new Requirement.Holds("first", "Soldering"),
            new Requirement.Signed(SLIDES, "Slides", Standing.SOUND, 1, 1, 1))));
    Verdict verdict = Evaluation.of(programme, evidence(List.of(), new PartsNamed(0, 0, 1))).get("second");
    assertEquals(
        "Missing: one sign-off of “Water keys”; and one sign-off of “Slides”. “Soldering” comes first.",
        verdict.sentence());
    assertEquals(Map.of("Soldering", false), verdict.before());
  }

  @Test
  void priorLearningStandsInUntilItsLastDay() {
    Programme programme = programme(signed(1, 1, 1), new Requirement.Holds("first", "Soldering"));
    Equivalence grant = new Equivalence(
        UUID.randomUUID(), APPRENTICE, "first", "Two years in another shop; work seen.", new UUID(2, 1), "Invented",
        NOW.toInstant(), Optional.of(LocalDate.of(2026, 11, 25)));
    Map<String, Verdict> verdicts = Evaluation.of(
        programme, new Evidence(List.of(), a -> new PartsNamed(0, 0, 1), List.of(), List.of(grant), NOW));
    assertEquals("Complete by prior learning.", verdicts.get("first").sentence());
    assertTrue(verdicts.get("second").isMet());
    assertFalse(Evaluation.of(
        programme, new Evidence(List.of(), a -> new PartsNamed(0, 0, 1), List.of(), List.of(grant), NOW.plusDays(1)))
        .get("first").isMet());
  }

  @Test
  void theShareOfNamesIsRoundedUp() {
    // 80 % of 7 parts is 5.6: six of them
    assertEquals(6, new Requirement.Names(BELL, "bell", 80).needed(7));
    assertEquals(4, new Requirement.Names(BELL, "bell", 80).needed(5));
    assertEquals(1, new Requirement.Names(BELL, "bell", 1).needed(5));
  }

  @Test
  void whatIsSureIsTheLowerLimitOfWilsonsInterval() {
    // the cases of R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, 95 %
    assertEquals(0.2553, new PartsNamed(81, 263, 263).sure(), 5e-5);
    assertEquals(0.0624, new PartsNamed(15, 148, 148).sure(), 5e-5);
    assertEquals(0, new PartsNamed(0, 20, 20).sure(), 5e-5);
    assertEquals(0.0061, new PartsNamed(1, 29, 29).sure(), 5e-5);
    assertEquals(0, new PartsNamed(0, 0, 20).sure());
  }

  @Test
  void puttingAWrongNameRightMakesMoreSureThanOneNameMore() {
    PartsNamed named = new PartsNamed(9, 12, 20);
    // by trying: 10 of 12 are sure to 55.2 %, 10 of 13 only to 49.7 %
    assertEquals(1, named.untilSure(0.55));
    Verdict verdict = Evaluation.of(new Requirement.Known(BELL, "bell", 55), evidence(List.of(), named));
    assertEquals(
        "Missing: 1 more name of the parts of the bell, so that 55 % are sure to be known (9 of 12 asked were right, "
            + "which makes 46 % sure).",
        verdict.sentence());
  }
}

package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** When a drill can be taken, until when its answers count, and which attempt counts. */
class TurnTest {

  private static final ZoneId SCHOOL = ZoneId.of("Europe/Rome");
  private static final LocalDate THURSDAY = LocalDate.of(2026, 11, 5);
  private static final Conditions USUAL = Conditions.dueOn(THURSDAY);
  private static final Conditions CLOSING = USUAL.withLateWork(false).withDueTime(LocalTime.of(22, 0));
  private static final Instant START = at(19, 0, 0);

  /** A moment of Thursday on the school's clock. */
  private static Instant at(int hour, int minute, int second) {
    return THURSDAY.atTime(hour, minute, second).atZone(SCHOOL).toInstant();
  }

  private static Turn turn(Conditions conditions, Pace pace, Instant now, SittingSummary... attempts) {
    Plan plan = Plan.ofParts(List.of(ConceptId.of("bell-rim")), Set.of(ItemKind.NAME), true);
    Assignment a =
        new Assignment(
            UUID.randomUUID(), UUID.randomUUID(), Set.of(), UUID.randomUUID(), "Rims", plan, conditions, START,
            Optional.empty());
    return new Turn(a, List.of(attempts), pace, now, SCHOOL);
  }

  private static SittingSummary attempt(int number, Instant started, int answered, double credit) {
    return new SittingSummary(
        UUID.randomUUID(), UUID.randomUUID(), Optional.empty(), number, "Rims", started, 4, answered, credit,
        answered == 0 ? Optional.empty() : Optional.of(started.plusSeconds(60L * answered)));
  }

  @Test
  void itIsDueAtTheEndOfItsDayOnTheSchoolsClock() {
    assertFalse(USUAL.isPast(Instant.parse("2026-11-05T22:59:59Z"), SCHOOL));
    assertTrue(USUAL.isPast(Instant.parse("2026-11-05T23:00:00Z"), SCHOOL));
  }

  @Test
  void untilTenTakesInTheWholeMinute() {
    assertFalse(CLOSING.isPast(at(22, 0, 59), SCHOOL));
    assertTrue(CLOSING.isPast(at(22, 1, 0), SCHOOL));
  }

  @Test
  void itCannotOpenAfterItIsDue() {
    Optional<LocalDateTime> friday = Optional.of(THURSDAY.plusDays(1).atStartOfDay());
    assertThrows(
        IllegalArgumentException.class,
        () ->
            new Conditions(
                friday, THURSDAY, Optional.empty(), true, 1, Conditions.Counts.BEST, Conditions.Feedback.EACH,
                Optional.empty()));
  }

  @Test
  void answersCountUntilTheTimeIsUpAndHalfAMinuteMore() {
    Conditions limited = USUAL.withLimit(Duration.ofMinutes(10));
    Deadline deadline = Deadline.of(limited, START, Pace.PLAIN, SCHOOL).orElseThrow();
    assertEquals(at(19, 10, 0), deadline.at());
    assertFalse(deadline.isPast(at(19, 10, 30)));
    assertTrue(deadline.isPast(at(19, 10, 31)));
  }

  @Test
  void moreTimeIsAShareOfTheLimitAndMinutesOnTop() {
    Conditions limited = USUAL.withLimit(Duration.ofMinutes(10));
    assertEquals(at(19, 18, 0), Deadline.of(limited, START, new Pace(150, 3), SCHOOL).orElseThrow().at());
  }

  @Test
  void aDrillThatTakesNoLateWorkClosesForThoseInTheMiddleOfItToo() {
    Conditions limited = CLOSING.withLimit(Duration.ofMinutes(10));
    Deadline deadline = Deadline.of(limited, at(21, 55, 0), new Pace(200, 0), SCHOOL).orElseThrow();
    assertEquals(at(22, 1, 0), deadline.at());
    assertFalse(deadline.timeLimit());
  }

  @Test
  void withoutLimitAndWithLateWorkNothingCloses() {
    assertEquals(Optional.empty(), Deadline.of(USUAL, START, Pace.PLAIN, SCHOOL));
  }

  @Test
  void whatCanBeDoneFollowsFromTheClockAndTheAttempts() {
    Conditions opening =
        new Conditions(
            Optional.of(THURSDAY.atTime(20, 0)), THURSDAY, Optional.empty(), false, 2, Conditions.Counts.BEST,
            Conditions.Feedback.EACH, Optional.of(Duration.ofMinutes(30)));
    assertEquals(Turn.State.AHEAD, turn(opening, Pace.PLAIN, at(19, 59, 59)).state());
    assertEquals(Turn.State.NEW, turn(opening, Pace.PLAIN, at(20, 0, 0)).state());
    assertEquals(Turn.State.MISSED, turn(opening, Pace.PLAIN, at(23, 59, 59).plusSeconds(1)).state());
    SittingSummary begun = attempt(1, at(20, 0, 0), 2, 1);
    assertEquals(Turn.State.UNDER_WAY, turn(opening, Pace.PLAIN, at(20, 29, 0), begun).state());
    assertEquals(Turn.State.AGAIN, turn(opening, Pace.PLAIN, at(20, 31, 0), begun).state());
    assertEquals(Turn.State.UNDER_WAY, turn(opening, new Pace(125, 0), at(20, 31, 0), begun).state());
    SittingSummary second = attempt(2, at(20, 31, 0), 4, 4);
    assertEquals(Turn.State.OVER, turn(opening, Pace.PLAIN, at(20, 40, 0), begun, second).state());
  }

  @Test
  void theBestAttemptCountsOrTheLastAndNeverOneUnderWay() {
    SittingSummary good = attempt(1, at(12, 0, 0), 4, 4);
    SittingSummary poor = attempt(2, at(13, 0, 0), 4, 1);
    SittingSummary begun = attempt(3, at(14, 0, 0), 1, 1);
    Conditions best = USUAL.withAttempts(3, Conditions.Counts.BEST);
    Conditions last = USUAL.withAttempts(3, Conditions.Counts.LAST);
    assertEquals(Optional.of(good), turn(best, Pace.PLAIN, at(14, 5, 0), begun, good, poor).counted());
    assertEquals(Optional.of(poor), turn(last, Pace.PLAIN, at(14, 5, 0), begun, good, poor).counted());
    assertEquals(Optional.empty(), turn(best, Pace.PLAIN, at(14, 5, 0), begun).counted());
  }

  @Test
  void whatRanOutOfTimeCountsWithWhatWasAnsweredInTime() {
    Conditions limited = USUAL.withLimit(Duration.ofMinutes(10));
    SittingSummary half = attempt(1, at(12, 0, 0), 2, 2);
    assertEquals(50, turn(limited, Pace.PLAIN, at(13, 0, 0), half).counted().orElseThrow().percent());
  }
}

package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class CourseTest {

  private static final LocalDate MONDAY = LocalDate.of(2026, 9, 7);

  private static Course after(int weeks, int done, int left) {
    return new Course(done, left, MONDAY, MONDAY.plusWeeks(weeks).minusDays(1));
  }

  @Test
  void theRateIsStepsInAWeekSinceTheFirstDay() {
    assertEquals(OptionalDouble.of(2), after(10, 20, 5).perWeek());
    assertEquals(OptionalDouble.of(7), new Course(1, 5, MONDAY, MONDAY).perWeek(), "the first day counts whole");
    assertEquals(OptionalDouble.empty(), new Course(0, 5, MONDAY, MONDAY.minusDays(1)).perWeek());
  }

  @Test
  void whatIsNeededIsWhatIsLeftOverTheTimeThatIsLeft() {
    Course course = after(10, 20, 12);
    assertEquals(OptionalDouble.of(3), course.neededPerWeek(course.day().plusWeeks(4)));
    assertEquals(OptionalDouble.empty(), course.neededPerWeek(course.day()));
  }

  @Test
  void afterTooFewStepsOrTooFewDaysNothingIsForetold() {
    assertEquals(Optional.empty(), after(10, 4, 12).projection());
    assertEquals(Optional.empty(), after(3, 20, 12).projection());
    assertEquals(OptionalDouble.empty(), after(10, 4, 12).chanceBy(MONDAY.plusYears(1)));
    assertTrue(after(4, 5, 12).projection().isPresent());
  }

  @Test
  void twentyStepsInTenWeeksAndTenLeftTakeSomeFiveWeeks() {
    Course.Projection projection = after(10, 20, 10).projection().orElseThrow();
    LocalDate now = after(10, 20, 10).day();
    assertTrue(projection.middle().isAfter(now.plusDays(30)) && projection.middle().isBefore(now.plusDays(37)));
    assertTrue(projection.earliest().isBefore(projection.middle()));
    assertTrue(projection.latest().orElseThrow().isAfter(projection.middle()));
    double chance = after(10, 20, 10).chanceBy(projection.latest().orElseThrow()).orElseThrow();
    assertEquals(0.9, chance, 0.01);
  }

  @Test
  void whoIsDoneIsDoneInTime() {
    assertEquals(OptionalDouble.of(1), after(10, 20, 0).chanceBy(MONDAY));
    assertEquals(Optional.empty(), after(10, 20, 0).projection());
  }

  @Test
  void aDayFurtherThanTenYearsAheadIsNoDay() {
    assertEquals(Optional.empty(), after(100, 5, 400).projection());
  }
}

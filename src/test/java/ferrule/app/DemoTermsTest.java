package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

class DemoTermsTest {

  private static DemoTerms on(LocalDate today) {
    return DemoTerms.before(Clock.fixed(today.atTime(3, 0).toInstant(ZoneOffset.UTC), ZoneOffset.UTC));
  }

  @Test
  void inTheWeekThatTheyWereWrittenForTheyLieWhereTheyWereWritten() {
    DemoTerms terms = on(LocalDate.of(2026, 11, 26));
    assertEquals(0, terms.weeks());
    assertEquals(LocalDate.of(2026, 9, 7), terms.day(2026, 9, 7));
    assertEquals("2026-01-26T09:00:00Z", terms.at(2026, 1, 26, LocalTime.of(9, 0)).toString());
  }

  @Property
  void theLastEveningIsATuesdayOfTheWeekBeforeTodayAndWeekdaysStay(@ForAll @IntRange(min = -4000, max = 20000) int days) {
    LocalDate today = LocalDate.of(2026, 11, 24).plusDays(days);
    DemoTerms terms = on(today);
    LocalDate last = terms.lastEvening();
    assertEquals(DayOfWeek.TUESDAY, last.getDayOfWeek());
    assertTrue(last.isBefore(today) && !last.isBefore(today.minusDays(7)), () -> last + " before " + today);
    assertEquals(last, terms.day(2026, 11, 24));
    assertEquals(DayOfWeek.MONDAY, terms.day(2026, 9, 7).getDayOfWeek());
  }
}

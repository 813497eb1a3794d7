package ferrule.app;

import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.RECORD_LOG;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.Competencies;
import ferrule.competency.State;
import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jooq.impl.DSL;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whoever tries Ferrule finds the demo in the midst of its terms, whenever that is. */
class DemoProgrammeIT {

  // the week that the terms were written for, a day after the second year would long have ended, a leap day, a Tuesday
  @ParameterizedTest
  @ValueSource(strings = {"2026-11-26", "2027-05-01", "2028-02-29", "2027-08-31"})
  void theDemoIsInTheMidstOfItsTermsWhenItIsBegun(String day) {
    Instant now = Instant.parse(day + "T03:00:00Z");
    Database database = RealDatabases.h2();
    try (Installation demo = new Installation(
        Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.fixed(now, ZoneOffset.UTC), ZoneOffset.UTC)) {
      DemoProgramme.fill(demo);
      LocalDate today = LocalDate.ofInstant(now, ZoneOffset.UTC);
      for (Cohort cohort : demo.people().cohorts()) {
        assertTrue(cohort.startsOn().isBefore(today) && cohort.endsOn().isAfter(today.plusWeeks(2)), cohort::toString);
      }
      assertBefore(now, database.dsl().select(DSL.max(DRILL_RESPONSE.ANSWERED_AT)).from(DRILL_RESPONSE).fetchSingle().value1());
      assertBefore(now, database.dsl().select(DSL.max(RECORD_LOG.RECORDED_AT)).from(RECORD_LOG).fetchSingle().value1());
      for (int later = 0; later < 7; later++) {
        Map<State, Integer> soldering = soldering(demo, now.plus(Duration.ofDays(later)));
        assertTrue(
            soldering.keySet().containsAll(List.of(State.COMPLETE, State.LAPSED, State.NOT_BEGUN)),
            () -> "soldering in the second year: " + soldering);
      }
    }
  }

  private static void assertBefore(Instant now, Instant last) {
    assertTrue(last.isBefore(now), () -> last + " is before " + now);
  }

  private static Map<State, Integer> soldering(Installation demo, Instant at) {
    List<UUID> second = demo.people().membersEver(DemoProgramme.id("second year")).stream().map(Person::id).toList();
    Competencies competencies = demo.competencies();
    return competencies.of(second, at).values().stream()
        .map(progress -> State.of(progress.of("safe-soldering")))
        .collect(Collectors.toMap(s -> s, s -> 1, Integer::sum, TreeMap::new));
  }
}

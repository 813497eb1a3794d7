package ferrule.audit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The trail on both databases. */
class AuditTrailTest {

  private static final Instant NOW = Instant.parse("2026-11-26T08:00:00Z");
  private static final UUID ANN = new UUID(1, 1);
  private static final UUID BOB = new UUID(1, 2);

  private static Happening happening(String route, UUID who, UUID id, Instant at) {
    return new Happening(
        at, route, Optional.of(who), "instructor", Map.of("id", id.toString()), List.of(), "192.0.2.7", "r1");
  }

  private static Question all(int most) {
    return new Question(List.of(), Optional.empty(), Optional.empty(), Set.of(), Instant.EPOCH, NOW.plusSeconds(3600), Optional.empty(), most);
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aChangeHasItsLineBeforeItIsMadeAndWhatIsSeenHasItSoon(Database database) {
    try (database) {
      AuditStore store = new AuditStore(database);
      AuditTrail trail = new AuditTrail(store, Clock.systemUTC());
      Happening change = happening("POST /record/{id}/prior-learning", ANN, BOB, NOW);
      List<Long> begun = trail.begins(change);
      // what another node, or this one after a kill, finds
      assertEquals(List.of("begun"), store.find(all(9)).stream().map(Entry::outcome).toList());
      assertEquals(Optional.of(BOB), store.find(all(9)).get(0).about());

      Happening look = happening("GET /record/{id}", ANN, BOB, NOW.plusSeconds(1));
      trail.ended(look, trail.begins(look), 200);
      Happening own = happening("GET /record/{id}", BOB, BOB, NOW.plusSeconds(2));
      trail.ended(own, trail.begins(own), 200);
      Happening refused = happening("GET /record/{id}", BOB, ANN, NOW.plusSeconds(3));
      trail.ended(refused, List.of(), 404);
      trail.ended(change, begun, 303);
      assertEquals(1, store.find(all(9)).size(), "not written yet");
      trail.flush();
      assertEquals(
          List.of("saw refused", "saw done", "changed done"),
          store.find(all(9)).stream().map(e -> e.kind() + " " + e.outcome()).toList());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatNoDatabaseKeepsDoesNotStopTheTrail(Database database) {
    try (database) {
      AuditStore store = new AuditStore(database);
      AuditTrail trail = new AuditTrail(store, Clock.systemUTC());
      Happening hostile = new Happening(
          NOW, "GET /bench/photos/{sha256}", Optional.of(ANN), "instructor", Map.of("sha256", "a\0b\uD800"), List.of("\0"),
          "192.0.2.7", "r1");
      trail.ended(hostile, trail.begins(hostile), 400);
      trail.flush();
      assertEquals(List.of("a\uFFFDb\uFFFD"), store.find(all(9)).stream().map(Entry::thing).toList());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aRouteThatNobodyListedLeavesALineToo(Database database) {
    try (database) {
      AuditStore store = new AuditStore(database);
      AuditTrail trail = new AuditTrail(store, Clock.systemUTC());
      Happening change = happening("POST /new-feature", ANN, BOB, NOW);
      assertEquals(1, trail.begins(change).size());
      assertEquals("changed", store.find(all(9)).get(0).kind());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void pagesGoThroughAllLinesOnceAlsoThoseOfOneMoment(Database database) {
    try (database) {
      AuditStore store = new AuditStore(database);
      List<Entry> lines = new ArrayList<>();
      for (int i = 0; i < 100; i++) {
        lines.add(new Entry(
            0, NOW.plusSeconds(i / 7), i % 2 == 0 ? "saw" : "changed", Optional.of(ANN), "instructor",
            Optional.of(i % 3 == 0 ? ANN : BOB), "GET /record/{id}", "", "", "", "done"));
      }
      store.write(lines, List.of());
      Question asked = new Question(
          List.of(ANN, BOB), Optional.of(ANN), Optional.empty(), Set.of("saw"), Instant.EPOCH, NOW.plusSeconds(99),
          Optional.empty(), 8);
      List<Long> seen = new ArrayList<>();
      for (List<Entry> page = store.find(asked); !page.isEmpty(); page = store.find(asked)) {
        page.forEach(e -> seen.add(e.id()));
        asked = asked.after(page.get(page.size() - 1));
      }
      assertEquals(50, seen.size());
      assertEquals(50, Set.copyOf(seen).size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatWasOnlySeenGoesAfterItsTimeAndChangesStay(Database database) {
    try (database) {
      AuditStore store = new AuditStore(database);
      AuditTrail trail = new AuditTrail(store, Clock.fixed(NOW, java.time.ZoneOffset.UTC));
      Happening old = happening("GET /record/{id}", ANN, BOB, NOW.minus(Duration.ofDays(401)));
      trail.ended(old, List.of(), 200);
      Happening change = happening("POST /record/{id}/prior-learning", ANN, BOB, NOW.minus(Duration.ofDays(4000)));
      trail.begins(change);
      Happening young = happening("GET /record/{id}", ANN, BOB, NOW.minus(Duration.ofDays(399)));
      trail.ended(young, List.of(), 200);
      trail.flush();
      trail.tidy(400);
      assertEquals(List.of(young.at(), change.at()), store.find(all(9)).stream().map(Entry::at).toList());
      assertTrue(Meanings.bundled().listed().size() > 200);
    }
  }
}

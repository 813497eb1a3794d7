package ferrule.drill.paper;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.MixUp;
import ferrule.drill.Outcome;
import ferrule.drill.Plan;
import ferrule.drill.Response;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class PaperStoreTest {

  private static final Instant WRITTEN = Instant.parse("2026-11-20T11:00:00Z");
  private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
  private static final ConceptId BELL = ConceptId.of("bell");
  private static final ConceptId RIM = ConceptId.of("bell-rim");

  /** A school with one worksheet of two items in two versions. */
  private static final class School {

    final PeopleStore people;
    final DrillStore drills;
    final PaperStore store;
    final Person isolde = new Person(UUID.randomUUID(), "isolde", "Invented Isolde", Role.INSTRUCTOR, Optional.empty());
    final Person wren = new Person(UUID.randomUUID(), "wren", "Invented Wren", Role.APPRENTICE, Optional.empty());
    final Worksheet sheet;

    School(Database database) {
      people = new PeopleStore(database, Clock.fixed(NOW, ZoneOffset.UTC));
      drills = new DrillStore(database);
      store = new PaperStore(database, drills);
      LocalDate start = LocalDate.of(2026, 9, 7);
      Cohort cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusYears(1));
      people.add(cohort);
      people.add(isolde, Optional.empty(), Optional.empty());
      people.add(wren, Optional.empty(), Optional.empty());
      people.join(cohort.id(), wren.id(), start, Optional.empty());
      Plan plan = Plan.ofParts(List.of(BELL, RIM), Set.of(ItemKind.NAME), true);
      sheet =
          new Worksheet(
              UUID.randomUUID(), cohort.id(), Optional.empty(), "Bell", "", plan, 1, "e1", isolde.id(), NOW,
              List.of(
                  new Version("A", List.of(name(1, BELL), name(2, RIM))),
                  new Version("B", List.of(name(1, RIM), name(2, BELL)))));
      store.add(sheet);
    }

    private static Item name(int number, ConceptId part) {
      return new Item(number, ItemKind.NAME, part, "left", Set.of(), 5);
    }

    Script tap(Tap... taps) {
      return store.tap(sheet.id(), wren.id(), List.of(taps), isolde.id(), NOW).orElseThrow();
    }

    Sitting sitting() {
      return new Sitting(
          UUID.randomUUID(), wren.id(), Optional.empty(), 1, "Bell", sheet.plan(), 1, "e1", WRITTEN,
          sheet.versions().get(1).items());
    }

    List<PaperStore.Entry> entries() {
      List<PaperStore.Entry> entries = new ArrayList<>();
      Map<Integer, Tap> taps = store.script(sheet.id(), wren.id()).orElseThrow().taps();
      for (Item item : sheet.versions().get(1).items()) {
        Tap tap = taps.get(item.position());
        Outcome outcome =
            tap.mark() == Mark.WRITTEN
                ? new Outcome("other-part", 0, "That is the bell.", Optional.of(BELL))
                : new Outcome(Marking.PREFIX + tap.mark().word(), tap.mark().credit(), "Marked.", Optional.empty());
        entries.add(new PaperStore.Entry(item, tap, outcome));
      }
      return entries;
    }

    boolean enter(Sitting sitting) {
      return store.enter(sheet.id(), sitting, entries(), isolde.id(), WRITTEN, NOW);
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aWorksheetIsReadBackAsItWasMade(Database database) {
    try (database) {
      School school = new School(database);
      assertEquals(Optional.of(school.sheet), school.store.worksheet(school.sheet.id()));
      assertEquals(List.of(school.sheet), school.store.worksheets());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyTapIsKeptOnceAndCanBeTakenBack(Database database) {
    try (database) {
      School school = new School(database);
      assertTrue(school.store.begin(school.sheet.id(), school.wren.id(), "B"));
      school.tap(Tap.of(1, Mark.WRONG));
      school.tap(Tap.of(1, Mark.RIGHT));
      Script twice = school.tap(Tap.of(1, Mark.RIGHT));
      assertEquals(2, twice.steps(), "a double tap is one");
      school.tap(Tap.of(2, Mark.HALF));
      Script back = school.store.undo(school.sheet.id(), school.wren.id()).orElseThrow();
      assertEquals(Map.of(1, Tap.of(1, Mark.RIGHT)), back.taps());
      back = school.store.undo(school.sheet.id(), school.wren.id()).orElseThrow();
      assertEquals(Map.of(1, Tap.of(1, Mark.WRONG)), back.taps());
      assertTrue(school.store.begin(school.sheet.id(), school.wren.id(), "A"));
      assertEquals(Map.of(), school.store.script(school.sheet.id(), school.wren.id()).orElseThrow().taps(),
          "on another version the numbers mean other parts");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void anEnteredPaperCountsOnceLikeAnyDrill(Database database) {
    try (database) {
      School school = new School(database);
      school.store.begin(school.sheet.id(), school.wren.id(), "B");
      school.tap(new Tap(1, Mark.WRITTEN, "bell"), Tap.of(2, Mark.RIGHT));
      Sitting first = school.sitting();
      CompletableFuture<Boolean> one = CompletableFuture.supplyAsync(() -> school.enter(first));
      CompletableFuture<Boolean> two = CompletableFuture.supplyAsync(() -> school.enter(school.sitting()));
      assertTrue(one.join() ^ two.join(), "one of two that enter it at the same time");
      Script script = school.store.script(school.sheet.id(), school.wren.id()).orElseThrow();
      List<Response> responses = school.drills.responses(script.sitting().orElseThrow());
      assertEquals(List.of(RIM, BELL), responses.stream().map(r -> r.item().key()).toList());
      assertEquals(List.of(0.0, 1.0), responses.stream().map(r -> r.now().credit()).toList());
      assertEquals(Optional.of("bell"), responses.get(0).typed());
      assertEquals(WRITTEN, responses.get(0).answeredAt());
      assertEquals(
          Set.of(school.isolde.id()), Set.copyOf(school.store.enteredBy(script.sitting().get()).values()));
      assertEquals(1, school.drills.sittingsOf(school.wren.id()).size());
      assertEquals(
          List.of(new MixUp(RIM, BELL, 1, 1)), school.drills.mixUpsIn(List.of(script.sitting().get())));
      assertTrue(
          school.drills.known().knowledge(List.of(school.wren.id())).trace(school.wren.id(), BELL).isPresent(),
          "it is known what was answered on paper");
      assertEquals(Optional.empty(), school.store.tap(
          school.sheet.id(), school.wren.id(), List.of(Tap.of(1, Mark.RIGHT)), school.isolde.id(), NOW));
      assertFalse(school.store.begin(school.sheet.id(), school.wren.id(), "A"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCorrectionIsANewRecordAndTheFirstStays(Database database) {
    try (database) {
      School school = new School(database);
      school.store.begin(school.sheet.id(), school.wren.id(), "B");
      school.tap(Tap.of(1, Mark.WRONG), Tap.of(2, Mark.RIGHT));
      assertTrue(school.enter(school.sitting()));
      UUID sitting = school.store.script(school.sheet.id(), school.wren.id()).orElseThrow().sitting().orElseThrow();
      Response wrong = school.drills.response(sitting, 1).orElseThrow();
      Outcome half = new Outcome("paper-half", 0.5, "Marked.", Optional.empty());
      assertTrue(school.store.correct(wrong, Tap.of(1, Mark.HALF), half, school.isolde.id(), NOW));
      assertFalse(school.store.correct(wrong, Tap.of(1, Mark.HALF), half, school.isolde.id(), NOW), "once is enough");
      Response now = school.drills.response(sitting, 1).orElseThrow();
      assertEquals(0, now.first().credit());
      assertEquals(0.5, now.now().credit());
      assertEquals(Mark.HALF, school.store.entered(sitting).get(1).mark());
      assertEquals(Mark.RIGHT, school.store.entered(sitting).get(2).mark());
      assertEquals(1.5, school.drills.summary(sitting).orElseThrow().credit());
    }
  }
}

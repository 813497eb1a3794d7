package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.HandClock;
import ferrule.web.VisitedPages;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Drills under conditions over real HTTP, with a clock that is moved by hand. */
class ConditionsPagesTest extends VisitedPages {

  private static final Instant NOW = Instant.parse("2026-11-02T12:00:00Z");
  private static final LocalDate FRIDAY = LocalDate.of(2026, 11, 6);

  private final HandClock clock = new HandClock(NOW);
  private DrillStore store;
  private Cohort cohort;
  private Person isolde;
  private Person wren;
  private Person bram;

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    people = new PeopleStore(database, clock);
    store = new DrillStore(database);
    LocalDate start = LocalDate.of(2026, 9, 7);
    cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusYears(1));
    people.add(cohort);
    isolde = add("isolde", Role.INSTRUCTOR);
    wren = add("wren", Role.APPRENTICE);
    bram = add("bram", Role.APPRENTICE);
    people.join(cohort.id(), wren.id(), start, Optional.empty());
    people.join(cohort.id(), bram.id(), start, Optional.empty());
    DrillPages pages =
        new DrillPages(
            people, store, new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY, Trumpet.STUDIO,
            Work.none(), clock, ZoneId.of("Europe/Rome"));
    server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages));
  }

  private Assignment set(Conditions conditions, Set<UUID> chosen) {
    Plan plan =
        Plan.ofAssemblies(List.of(ConceptId.of("third-slide-assembly")), EnumSet.of(ItemKind.NAME), 3, true);
    Assignment a =
        new Assignment(
            UUID.randomUUID(), cohort.id(), chosen, isolde.id(), "Slides", plan, conditions, NOW, Optional.empty());
    store.assignments().add(a);
    return a;
  }

  private static Browser.Answer start(Browser who, Assignment a, int attempt) {
    String csrf = who.get("/practise").hidden("csrf");
    return who.post(
        "/practise/drills/" + a.id(), Map.of("csrf", csrf, "attempt", String.valueOf(attempt)));
  }

  private static Browser.Answer answer(Browser who, String path, String typed) {
    Browser.Answer page = who.get(path);
    Map<String, String> form = new HashMap<>();
    form.put("csrf", page.hidden("csrf"));
    form.put("key", page.hidden("key"));
    form.put("answer", typed);
    return who.post(path, form);
  }

  private int answered(String sitting) {
    return store.responses(UUID.fromString(sitting.substring(sitting.lastIndexOf('/') + 1))).size();
  }

  @Test
  void whatArrivesAfterTheTimeAndTheGraceDoesNotCountAndThePageSaysSo() {
    Assignment a = set(Conditions.dueOn(FRIDAY).withLimit(Duration.ofMinutes(10)), Set.of());
    Browser wren = as("wren");
    assertTrue(wren.get("/practise/drills/" + a.id()).body().contains("10 minutes"));
    String sitting = start(wren, a, 1).location();
    assertTrue(wren.get(sitting + "/1").body().contains("Time runs until 13:10"));
    clock.pass(Duration.ofMinutes(10).plusSeconds(20));
    answer(wren, sitting + "/1", "crook");
    assertEquals(1, answered(sitting), "it was on its way when the time ran out");
    Browser.Answer late = wren.get(sitting + "/2");
    clock.pass(Duration.ofSeconds(20));
    Map<String, String> form = Map.of("csrf", late.hidden("csrf"), "key", late.hidden("key"), "answer", "crook");
    assertEquals(sitting + "/result", wren.post(sitting + "/2", form).location());
    assertEquals(1, answered(sitting));
    String result = wren.get(sitting + "/result").body();
    assertTrue(result.contains("Time ran out at 13:10: 1 of 3 were answered in time."), result);
    assertTrue(as("isolde").get("/class/drills/" + a.id()).body().contains("Time ran out"));
  }

  @Test
  void moreTimeHoldsAtOnceAndOnlyInstructorsSeeIt() {
    Assignment a = set(Conditions.dueOn(FRIDAY).withLimit(Duration.ofMinutes(10)), Set.of());
    Browser wren = as("wren");
    String sitting = start(wren, a, 1).location();
    Browser isolde = as("isolde");
    String path = "/class/drills/" + a.id() + "/time";
    Map<String, String> form = new HashMap<>();
    form.put("csrf", isolde.get(path).hidden("csrf"));
    form.put("percent-" + this.wren.id(), "150");
    form.put("extra-" + this.wren.id(), "5");
    assertEquals(303, isolde.post(path, form).status());
    assertTrue(isolde.get(path).body().contains("20 minutes"));
    assertTrue(wren.get(sitting + "/1").body().contains("Time runs until 13:20"));
    assertEquals(403, wren.get(path).status());
    String bramStarts = start(as("bram"), a, 1).location();
    assertTrue(as("bram").get(bramStarts + "/1").body().contains("Time runs until 13:10"));
    form.put("extra-" + this.wren.id(), "999");
    assertEquals(400, isolde.post(path, form).status());
    assertEquals(new Pace(150, 5), store.assignments().pace(a.id(), this.wren.id()));
  }

  @Test
  void verdictsAreKeptBackUntilTheEnd() {
    Assignment a = set(Conditions.dueOn(FRIDAY).withFeedback(Conditions.Feedback.END), Set.of());
    Browser wren = as("wren");
    String sitting = start(wren, a, 1).location();
    assertEquals(sitting + "/2", answer(wren, sitting + "/1", "spanner").location());
    String kept = wren.get(sitting + "/1").body();
    assertTrue(kept.contains("Your answer is kept") && kept.contains("“spanner”"), kept);
    assertFalse(kept.contains("id=\"verdict\""), kept);
    assertEquals(sitting + "/2", wren.get(sitting + "/result").location());
    answer(wren, sitting + "/2", "crook");
    answer(wren, sitting + "/3", "crook");
    assertTrue(wren.get(sitting + "/1").body().contains("id=\"verdict\""));
  }

  @Test
  void anotherAttemptIsStartedOnceAndOnlySoOftenAsItMayBe() {
    Assignment a = set(Conditions.dueOn(FRIDAY).withAttempts(2, Conditions.Counts.BEST), Set.of());
    Browser wren = as("wren");
    String first = start(wren, a, 1).location();
    assertEquals(first, start(wren, a, 2).location(), "the first is under way");
    for (int i = 1; i <= 3; i++) {
      answer(wren, first + "/" + i, "spanner");
    }
    String second = start(wren, a, 2).location();
    assertFalse(second.equals(first));
    assertEquals(second, start(wren, a, 2).location());
    assertEquals(first, start(wren, a, 1).location(), "an old page starts nothing");
    for (int i = 1; i <= 3; i++) {
      answer(wren, second + "/" + i, "spanner");
    }
    assertEquals(409, start(wren, a, 3).status());
  }

  @Test
  void itIsTakenOnlyByThoseItIsForFromItsOpeningUntilItCloses() {
    Conditions week =
        new Conditions(
            Optional.of(LocalDate.of(2026, 11, 3).atTime(8, 0)), FRIDAY, Optional.empty(), false, 1,
            Conditions.Counts.BEST, Conditions.Feedback.EACH, Optional.empty());
    Assignment a = set(week, Set.of(wren.id()));
    assertEquals(404, start(as("bram"), a, 1).status());
    assertFalse(as("bram").get("/practise").body().contains("Slides"));
    Browser wren = as("wren");
    assertTrue(wren.get("/practise").body().contains("opens Tue 3 Nov, 08:00"));
    assertEquals(409, start(wren, a, 1).status());
    clock.pass(Duration.ofHours(20));
    Browser next = as("wren");
    assertEquals(303, start(next, a, 1).status());
    clock.pass(Duration.ofDays(5));
    String closed = as("wren").get("/practise").body();
    assertTrue(closed.contains("Result"), closed);
  }
}

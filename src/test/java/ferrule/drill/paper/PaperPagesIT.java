package ferrule.drill.paper;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.drill.DrillPages;
import ferrule.drill.DrillStore;
import ferrule.drill.Response;
import ferrule.drill.RulingStore;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.VisitedPages;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Worksheets over real HTTP, on the real trumpet. */
class PaperPagesIT extends VisitedPages {

  private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");

  private DrillStore drills;
  private PaperStore store;
  private Cohort cohort;
  private Person wren;
  private Person bram;

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    Clock clock = Clock.fixed(NOW, ZoneOffset.UTC);
    ZoneId school = ZoneId.of("Europe/Rome");
    people = new PeopleStore(database, clock);
    drills = new DrillStore(database);
    store = new PaperStore(database, drills);
    LocalDate start = LocalDate.of(2026, 9, 7);
    cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusYears(1));
    people.add(cohort);
    add("isolde", Role.INSTRUCTOR);
    bram = add("bram", Role.APPRENTICE);
    wren = add("wren", Role.APPRENTICE);
    people.join(cohort.id(), bram.id(), start, Optional.empty());
    people.join(cohort.id(), wren.id(), start, Optional.empty());
    DrillPages drillPages =
        new DrillPages(
            people, drills, new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY, Trumpet.STUDIO,
            Trumpet.WORK, clock, school);
    PaperPages pages =
        new PaperPages(people, drills, store, drillPages, Trumpet.GLOSSARY, Trumpet.STUDIO, "e1", clock, school);
    server =
        WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(drillPages, pages));
  }

  private String make(Browser isolde) {
    Map<String, String> form = new HashMap<>();
    form.put("csrf", isolde.get("/class/paper/new").hidden("csrf"));
    form.put("drill", "");
    form.put("assembly", "third-slide-assembly");
    form.put("kind", "name");
    form.put("length", "4");
    form.put("versions", "2");
    form.put("cohort", cohort.id().toString());
    form.put("title", "Third slide");
    form.put("school", "The invented school");
    Browser.Answer made = isolde.post("/class/paper", form);
    assertEquals(303, made.status(), made.body());
    return made.location();
  }

  private static Browser.Answer send(Browser browser, String page, String to, String... fields) {
    Map<String, String> form = new HashMap<>();
    form.put("csrf", browser.get(page).hidden("csrf"));
    for (int i = 0; i < fields.length; i += 2) {
      form.put(fields[i], fields[i + 1]);
    }
    return browser.post(page + to, form);
  }

  @Test
  void aPaperGoesFromThePrinterToThePoints() {
    Browser isolde = as("isolde");
    String sheet = make(isolde);
    for (String paper : List.of("/A/worksheet.pdf?size=letter", "/B/key.pdf?size=a4")) {
      Browser.Answer pdf = isolde.get(sheet + paper);
      assertEquals("application/pdf", pdf.header("Content-Type"));
      assertTrue(pdf.body().startsWith("%PDF-"));
    }
    assertEquals("application/zip", isolde.get(sheet + "/all?size=a4").header("Content-Type"));
    assertTrue(isolde.get(sheet + "/B/worksheet").body().contains("Name the parts"));
    Worksheet made = store.worksheets().get(0);
    String page = sheet + "/scores/" + bram.id();
    send(isolde, page, "/version", "version", "B");
    String wrongTerm = Trumpet.GLOSSARY.get(made.version("B").orElseThrow().items().get(1).key()).term();
    assertEquals(303, send(isolde, page, "/tap", "number", "1", "mark", "written", "written", wrongTerm).status());
    send(isolde, page, "/tap", "number", "2", "mark", "half");
    assertEquals(400, send(isolde, page, "/enter", "taken", "2026-11-20").status(), "two are not marked");
    send(isolde, page, "/rest", "mark", "right");
    Browser.Answer entered = send(isolde, page, "/enter", "taken", "2026-11-20");
    assertEquals(sheet + "/scores/" + wren.id() + "?taken=2026-11-20", entered.location(), entered.body());
    assertEquals(409, send(isolde, page, "/enter", "taken", "2026-11-20").status());
    UUID sitting = store.script(made.id(), bram.id()).orElseThrow().sitting().orElseThrow();
    List<Response> responses = drills.responses(sitting);
    assertEquals(List.of(0.0, 0.5, 1.0, 1.0), responses.stream().map(r -> r.now().credit()).toList());
    assertEquals(
        Optional.of(made.version("B").orElseThrow().items().get(1).key()), responses.get(0).now().takenFor());
    assertEquals(Instant.parse("2026-11-20T11:00:00Z"), responses.get(0).answeredAt(), "noon at the school");
    send(isolde, page, "/correct", "number", "2", "mark", "wrong");
    assertEquals(0.0, drills.response(sitting, 2).orElseThrow().now().credit());
    assertEquals(0.5, drills.response(sitting, 2).orElseThrow().first().credit());
    assertTrue(isolde.get("/class/sittings/" + sitting).body().contains("Marked wrong"));
    assertTrue(as("bram").get("/practise").body().contains("Third slide"), "the apprentice sees it too");
  }

  @Test
  void thePageAnswersItsScriptWithWhatHoldsNow() {
    Browser isolde = as("isolde");
    String page = make(isolde) + "/scores/" + wren.id();
    assertEquals(400, send(isolde, page, "/tap", "number", "1", "mark", "right").status(), "no version is chosen yet");
    send(isolde, page, "/version", "version", "A");
    send(isolde, page, "/tap", "number", "1", "mark", "right");
    assertTrue(isolde.get(page).body().contains("value=\"right\" aria-pressed=\"true\" aria-label=\"1 Right\""));
    assertEquals(400, send(isolde, page, "/tap", "number", "9", "mark", "right").status());
    assertEquals(400, send(isolde, page, "/tap", "number", "1", "mark", "splendid").status());
    send(isolde, page, "/undo");
    assertFalse(isolde.get(page).body().contains("aria-pressed=\"true\" aria-label=\"1 Right\""));
  }

  @Test
  void worksheetsAndKeysAreForInstructors() {
    Browser isolde = as("isolde");
    String sheet = make(isolde);
    Browser apprentice = as("wren");
    for (String path : List.of("", "/A/key", "/A/key.pdf", "/all", "/scores/" + wren.id())) {
      assertEquals(403, apprentice.get(sheet + path).status(), path);
    }
    assertEquals(404, isolde.get(sheet + "/F/key.pdf").status());
    assertEquals(404, isolde.get(sheet + "/scores/" + UUID.randomUUID()).status());
  }

  @Test
  void aFormThatCannotBeMadeSaysWhy() {
    Browser isolde = as("isolde");
    Browser.Answer answer =
        isolde.post(
            "/class/paper",
            Map.of("csrf", isolde.get("/class/paper/new").hidden("csrf"), "length", "0", "versions", "9"));
    assertEquals(400, answer.status());
    for (String problem : List.of("at least one assembly", "at least one way of asking", "from 1 to 60", "from 1 to 6", "Choose the cohort")) {
      assertTrue(answer.body().contains(problem), problem);
    }
  }
}

package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
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
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Drills over real HTTP, on the real trumpet. */
class DrillPagesTest extends VisitedPages {

  // 23:30 on the 2nd in Greenwich is the 3rd in the school's zone
  private static final Instant NOW = Instant.parse("2026-11-02T23:30:00Z");
  private static final ZoneId SCHOOL = ZoneId.of("Europe/Rome");
  private static final String CROOKS = "third-slide-assembly";

  private DrillStore store;
  private Cohort cohort;
  private Person wren;

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    Clock clock = Clock.fixed(NOW, ZoneOffset.UTC);
    people = new PeopleStore(database, clock);
    store = new DrillStore(database);
    LocalDate start = LocalDate.of(2026, 9, 7);
    cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusYears(1));
    people.add(cohort);
    add("isolde", Role.INSTRUCTOR);
    wren = add("wren", Role.APPRENTICE);
    Person bram = add("bram", Role.APPRENTICE);
    people.join(cohort.id(), wren.id(), start, Optional.empty());
    people.join(cohort.id(), bram.id(), start, Optional.empty());
    DrillPages pages =
        new DrillPages(
            people, store, new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY, Trumpet.STUDIO,
            Work.none(), clock, SCHOOL);
    server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages));
  }

  private Map<String, String> form(String csrf, String kind, String length) {
    Map<String, String> form = new HashMap<>();
    form.put("csrf", csrf);
    form.put("assembly", CROOKS);
    form.put("kind", kind);
    form.put("length", length);
    form.put("cohort", cohort.id().toString());
    form.put("due", "2026-11-03");
    form.put("late", "yes");
    form.put("attempts", "1");
    form.put("title", "");
    return form;
  }

  private Assignment set(Browser isolde, String kind, String length) {
    String csrf = isolde.get("/class/drills/new").hidden("csrf");
    Browser.Answer answer = isolde.post("/class/drills", form(csrf, kind, length));
    assertEquals(303, answer.status(), answer.body());
    return store.assignments().standing().get(0);
  }

  private String start(Browser apprentice, Assignment assignment) {
    String csrf = apprentice.get("/practise").hidden("csrf");
    Browser.Answer answer = apprentice.post("/practise/drills/" + assignment.id(), Map.of("csrf", csrf));
    assertEquals(303, answer.status(), answer.body());
    return answer.location();
  }

  private Sitting sittingAt(String path) {
    return store.sitting(UUID.fromString(path.substring(path.lastIndexOf('/') + 1))).orElseThrow();
  }

  private static Browser.Answer send(Browser browser, String path, String field, String value) {
    String csrf = browser.get(path).hidden("csrf");
    return browser.post(path, Map.of("csrf", csrf, field, value));
  }

  @Test
  void anInstructorSetsADrillAndAnApprenticeTakesItToTheEnd() {
    Browser isolde = as("isolde");
    Assignment assignment = set(isolde, "name", "3");
    assertEquals("Naming: third slide assembly", assignment.title());
    Browser wren = as("wren");
    assertTrue(wren.get("/practise").body().contains("due today"), "it is the 3rd in the school's zone");
    String sitting = start(wren, assignment);
    for (Item item : sittingAt(sitting).items()) {
      assertEquals(sitting + "/" + item.position(), wren.get(sitting).location());
      String term = Trumpet.GLOSSARY.get(item.key()).term();
      Browser.Answer answer = send(wren, sitting + "/" + item.position(), "answer", term);
      assertEquals(sitting + "/" + item.position(), answer.location());
      String feedback = wren.get(answer.location()).body();
      assertTrue(feedback.contains("Right: " + term), feedback);
    }
    assertEquals(sitting + "/result", wren.get(sitting).location());
    assertTrue(wren.get(sitting + "/result").body().contains("<strong>3</strong> of 3 points"));
    String progress = isolde.get("/class/drills/" + assignment.id()).body();
    assertTrue(progress.contains("1 of 2 done"), progress);
    assertTrue(isolde.get("/class/sittings/" + sittingAt(sitting).id()).body().contains("Invented wren"));
  }

  @Test
  void aDoubleTapCountsOnceAndShowsTheFirstVerdict() {
    Assignment assignment = set(as("isolde"), "name", "2");
    Browser wren = as("wren");
    String sitting = start(wren, assignment);
    assertEquals(sitting, start(wren, assignment), "a second tap on start goes on with the same drill");
    String csrf = wren.get(sitting + "/1").hidden("csrf");
    wren.post(sitting + "/1", Map.of("csrf", csrf, "answer", "spanner"));
    String term = Trumpet.GLOSSARY.get(sittingAt(sitting).items().get(0).key()).term();
    wren.post(sitting + "/1", Map.of("csrf", csrf, "answer", term));
    List<Response> kept = store.responses(sittingAt(sitting).id());
    assertEquals(List.of("spanner"), kept.stream().map(r -> r.typed().orElseThrow()).toList());
    assertTrue(wren.get(sitting + "/1").body().contains("spanner"));
  }

  @Test
  void anotherDeviceGoesOnWhereTheFirstOneStopped() {
    Assignment assignment = set(as("isolde"), "find", "3");
    String sitting = start(as("wren"), assignment);
    send(as("wren"), sitting + "/1", "pass", "yes");
    assertEquals(sitting + "/2", as("wren").get(sitting).location());
  }

  @Test
  void aPartIsFoundByItsShapeOrByItsNumberWithoutScript() {
    Assignment assignment = set(as("isolde"), "find", "2");
    Browser wren = as("wren");
    String sitting = start(wren, assignment);
    List<Item> items = sittingAt(sitting).items();
    List<ConceptId> shapes = Trumpet.PICTURES.asking(items.get(0), false).shapes();
    int shape = shapes.indexOf(pieceOf(items.get(0).key(), shapes));
    send(wren, sitting + "/1", "shape", String.valueOf(shape));
    Map<ConceptId, Integer> numbers = Trumpet.PICTURES.asking(items.get(1), true).numbers();
    int number = numbers.get(pieceOf(items.get(1).key(), List.copyOf(numbers.keySet())));
    String page = wren.get(sitting + "/2?by=number").body();
    assertTrue(page.contains(">" + number + "<"), "the number stands on the drawing");
    send(wren, sitting + "/2?by=number", "number", String.valueOf(number));
    store.responses(sittingAt(sitting).id()).forEach(r -> assertTrue(r.now().isRight(), r.toString()));
    assertEquals(2, store.responses(sittingAt(sitting).id()).size());
  }

  private static ConceptId pieceOf(ConceptId key, List<ConceptId> shapes) {
    return shapes.stream()
        .filter(s -> s.equals(key))
        .findFirst()
        .or(
            () ->
                shapes.stream()
                    .filter(s -> Trumpet.GLOSSARY.wholesOf(s).stream().map(Concept::id).anyMatch(key::equals))
                    .findFirst())
        .orElseThrow();
  }

  @Test
  void thePageThatAsksForANameDoesNotHoldIt() {
    Assignment assignment = set(as("isolde"), "name", "6");
    Browser wren = as("wren");
    String sitting = start(wren, assignment);
    for (Item item : sittingAt(sitting).items()) {
      String page = wren.get(sitting + "/" + item.position()).body().toLowerCase(Locale.ROOT);
      Concept part = Trumpet.GLOSSARY.get(item.key());
      assertFalse(page.contains(part.id().value()), part.id() + " stands in its own question");
      part.terms().forEach(t -> assertFalse(page.contains(t.text().toLowerCase(Locale.ROOT)), t + " is given away"));
    }
  }

  @Test
  void noOneSeesAnotherApprenticesSitting() {
    Assignment assignment = set(as("isolde"), "name", "1");
    String sitting = start(as("wren"), assignment);
    Browser bram = as("bram");
    assertEquals(404, bram.get(sitting).status());
    assertEquals(404, bram.get(sitting + "/1").status());
    String csrf = bram.get("/practise").hidden("csrf");
    assertEquals(404, bram.post(sitting + "/1", Map.of("csrf", csrf, "answer", "crook")).status());
    assertEquals(403, bram.get("/class/sittings/" + sittingAt(sitting).id()).status());
    assertEquals(List.of(), store.responses(sittingAt(sitting).id()));
  }

  @Test
  void anEmptyAnswerIsAskedForAgainAndNotKept() {
    Assignment assignment = set(as("isolde"), "name", "1");
    Browser wren = as("wren");
    String sitting = start(wren, assignment);
    Browser.Answer answer = send(wren, sitting + "/1", "answer", "  ");
    assertEquals(400, answer.status());
    assertTrue(answer.body().contains("Type the name of the part first"));
    assertEquals(List.of(), store.responses(sittingAt(sitting).id()));
  }

  @Test
  void aFormWithMistakesSaysWhatIsExpectedAndKeepsWhatWasEntered() {
    Browser isolde = as("isolde");
    String csrf = isolde.get("/class/drills/new").hidden("csrf");
    Map<String, String> wrong = form(csrf, "name", "59");
    wrong.put("title", "Slides before the holidays");
    wrong.put("due", "2026-11-01");
    Browser.Answer answer = isolde.post("/class/drills", wrong);
    assertEquals(400, answer.status());
    assertTrue(answer.body().contains("The due date has passed"));
    assertTrue(answer.body().contains("Ask for at most "));
    assertTrue(answer.body().contains("value=\"Slides before the holidays\""));
    assertTrue(answer.body().contains("value=\"59\""));
    assertEquals(List.of(), store.assignments().standing());
  }

  @Test
  void aDrillIsWithdrawnUntilSomebodyStartsIt() {
    Browser isolde = as("isolde");
    Assignment untouched = set(isolde, "name", "1");
    String csrf = isolde.get("/class").hidden("csrf");
    assertEquals(
        303, isolde.post("/class/drills/" + untouched.id() + "/withdraw", Map.of("csrf", csrf)).status());
    assertEquals(List.of(), store.assignments().standing());
    Assignment started = set(isolde, "name", "1");
    start(as("wren"), started);
    assertEquals(409, isolde.post("/class/drills/" + started.id() + "/withdraw", Map.of("csrf", csrf)).status());
    assertEquals(List.of(started), store.assignments().standing());
  }

  @Test
  void aDrillOfMonthsAgoStandsAmongTheOlder() {
    Browser isolde = as("isolde");
    Assignment recent = set(isolde, "name", "1");
    LocalDate longAgo = recent.conditions().dueOn().minusWeeks(9);
    store.assignments().add(
        new Assignment(
            UUID.randomUUID(), recent.cohort(), Set.of(), recent.setBy(), "Before the summer", recent.plan(),
            Conditions.dueOn(longAgo), recent.setAt(), Optional.empty()));
    String now = isolde.get("/class").body();
    assertTrue(now.contains(recent.title()) && now.contains("1 older") && !now.contains("Before the summer"), now);
    String all = isolde.get("/class?older=yes").body();
    assertTrue(all.contains(recent.title()) && all.contains("Before the summer") && !all.contains("1 older"), all);
  }

  @Test
  void aSelfTestNeedsNoAssignmentAndAsksAgainWhatWasMissed() {
    Browser wren = as("wren");
    String csrf = wren.get("/practise").hidden("csrf");
    Browser.Answer started =
        wren.post(
            "/practise/self-test", Map.of("csrf", csrf, "assembly", "", "kind", "find", "length", "5"));
    String sitting = started.location();
    assertEquals(5, sittingAt(sitting).items().size());
    for (int i = 1; i <= 5; i++) {
      send(wren, sitting + "/" + i, "pass", "yes");
    }
    Browser.Answer again = wren.post(sitting + "/again", Map.of("csrf", csrf));
    assertEquals(5, sittingAt(again.location()).items().size());
    assertTrue(wren.get("/practise").body().contains("Worth practising"));
  }

  @Test
  void aRulingReachesTheApprenticeWhoGaveTheAnswer() {
    Browser isolde = as("isolde");
    Assignment assignment = set(isolde, "name", "1");
    Browser wren = as("wren");
    String sitting = start(wren, assignment);
    send(wren, sitting + "/1", "answer", "goose neck");
    assertTrue(wren.get(sitting + "/1").body().contains("I think that was right"));
    assertTrue(isolde.get("/class").body().contains("1 answer awaits your ruling"));
    String part = sittingAt(sitting).items().get(0).key().value();
    String form = "/class/rulings/new?part=" + part + "&phrase=goose+neck";
    String csrf = isolde.get(form).hidden("csrf");
    Map<String, String> ruling = new HashMap<>();
    ruling.put("csrf", csrf);
    ruling.put("part", part);
    ruling.put("phrase", "goose neck");
    ruling.put("decision", "not-accepted");
    assertEquals(400, isolde.post("/class/rulings", ruling).status(), "a reason is needed");
    ruling.put("decision", "term");
    assertEquals(303, isolde.post("/class/rulings", ruling).status());
    assertEquals(409, isolde.post("/class/rulings", ruling).status(), "it is ruled on once");
    String patch = isolde.get("/class/rulings/glossary.patch").body();
    assertTrue(patch.contains("goose neck"), patch);
    Browser.Answer told = wren.get("/practise");
    assertTrue(told.body().contains("now counts 1 of 1"), told.body());
    Matcher notice = Pattern.compile("/practise/changes/[0-9a-f-]+").matcher(told.body());
    assertTrue(notice.find());
    wren.post(notice.group(), Map.of("csrf", told.hidden("csrf")));
    assertFalse(wren.get("/practise").body().contains("now counts 1 of 1"));
    assertTrue(wren.get(sitting + "/1").body().contains("after a ruling"));
    String made = isolde.get("/class/rulings").body();
    Matcher undo = Pattern.compile("/class/rulings/[0-9a-f-]+/undo").matcher(made);
    assertTrue(undo.find());
    assertEquals(303, isolde.post(undo.group(), Map.of("csrf", csrf)).status());
    assertFalse(store.responses(sittingAt(sitting).id()).get(0).now().isRight());
    assertEquals(403, wren.get("/class/rulings").status());
  }

  @Test
  void practisingNowAsksForTheProposedPartsAndForNoOthers() {
    Browser wren = as("wren");
    Browser.Answer page = wren.get("/practise");
    List<String> proposed =
        Pattern.compile("name=\"part\" value=\"([^\"]+)\"").matcher(page.body()).results()
            .map(m -> m.group(1)).toList();
    assertEquals(10, proposed.size());
    String form = "csrf=" + page.hidden("csrf") + "&part=" + String.join("&part=", proposed) + "&part=no-such-part";
    Sitting sitting = sittingAt(wren.postForm("/practise/now", form).location());
    assertEquals(
        Set.copyOf(proposed),
        sitting.items().stream().map(i -> i.key().value()).collect(Collectors.toSet()));
    assertEquals(400, wren.post("/practise/now", Map.of("csrf", page.hidden("csrf"), "part", "no-such-part")).status());
  }

  @Test
  void whatIsKnownIsShownToTheApprenticeAndToTheInstructor() {
    Browser wren = as("wren");
    Browser isolde = as("isolde");
    assertFalse(wren.get("/practise").body().contains("What you know"));
    assertTrue(isolde.get("/class").body().contains("Nobody of this cohort has answered anything yet"));
    String sitting = start(wren, set(isolde, "name", "1"));
    ConceptId part = sittingAt(sitting).items().get(0).key();
    send(wren, sitting + "/1", "pass", "yes");
    String own = wren.get("/practise").body();
    assertTrue(own.contains("What you know") && own.contains("you missed last time, or have likely lost since"), own);
    assertFalse(own.contains("would be named today"), "what was missed is not said to be named");
    assertTrue(own.contains("class=\"part m-"), "the instrument is drawn");
    String ofClass = isolde.get("/class").body();
    assertTrue(ofClass.contains("Of 2 apprentices"), ofClass);
    assertTrue(ofClass.contains(new PartNames(Trumpet.GLOSSARY).heading(part)));
  }
}

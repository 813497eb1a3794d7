package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.RecordStore;
import ferrule.glossary.Glossary;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogEntry;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.Browser.Answer;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Moving cohorts between editions, prior learning and hours, as people do it on the pages. */
class EditionPagesTest {

  private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
  private static final ZoneId ZONE = ZoneOffset.UTC;
  private static final Programme OLDER = programme("hours: {at-least: 2}", "");
  private static final Programme NEWER = programme(
      "hours: {at-least: 10}",
      "      - {id: braces, title: Braces, says: Sets a brace., requires: {signed: {task: solder}}}\n");

  private final Person wren = person("wren", Role.APPRENTICE);
  private final Person bram = person("bram", Role.APPRENTICE);
  private final Person isolde = person("isolde", Role.INSTRUCTOR);
  private final Person magnus = person("magnus", Role.COORDINATOR);
  private final Cohort first = cohort("First year", OLDER);
  private final Cohort second = cohort("Second year", NEWER);

  private final Map<Person, Browser> browsers = new HashMap<>();

  private Instant now = NOON;
  private Database database;
  private LedgerStore ledger;
  private Competencies competencies;
  private WebServer server;

  private static Programme programme(String hours, String more) {
    return ProgrammeReader.kept(
        """
        id: p
        title: Repair
        areas:
          - id: a
            title: All of it
            competencies:
              - id: patience
                title: Patience
                says: Stays at the bench.
                requires: {%s}
        """.formatted(hours) + more,
        Map.of("solder", "Soldering"));
  }

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  private static Cohort cohort(String title, Programme edition) {
    return new Cohort(
        UUID.randomUUID(), title, edition.edition(), LocalDate.of(2026, 9, 7), LocalDate.of(2027, 6, 25));
  }

  @BeforeEach
  void open() {
    Clock clock = new Clock() {
      @Override
      public Instant instant() {
        return now;
      }

      @Override
      public ZoneId getZone() {
        return ZONE;
      }

      @Override
      public Clock withZone(ZoneId zone) {
        return this;
      }
    };
    database = RealDatabases.h2();
    ledger = new LedgerStore(database);
    PeopleStore people = new PeopleStore(database, clock);
    for (Person p : List.of(wren, bram, isolde, magnus)) {
      people.add(p, Optional.of("copper kettle"), Optional.empty());
    }
    people.add(first);
    people.add(second);
    people.join(first.id(), wren.id(), first.startsOn(), Optional.empty());
    people.join(second.id(), bram.id(), second.startsOn(), Optional.empty());
    EditionStore editions = new EditionStore(database, ledger);
    editions.keep(OLDER, NOON.minus(Duration.ofDays(90)));
    editions.keep(NEWER, NOON);
    HoursStore hours = new HoursStore(database);
    EquivalenceStore equivalences = new EquivalenceStore(database, ledger);
    competencies = new Competencies(
        NEWER, editions,
        new EvidenceSource(
            new RecordStore(database, clock), new NamingStore(database), new NameScope(List.<Glossary>of(), Set::of),
            hours, equivalences, ZONE));
    Desk desk = new Desk(competencies, people, clock, ZONE);
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people,
        List.of(
            new CompetencyPages(desk, equivalences, hours), new HoursPages(desk, hours),
            new EditionPages(desk, editions)));
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private Browser signedIn(Person who) {
    return browsers.computeIfAbsent(who, w -> {
      Browser browser = new Browser(server.port());
      browser.signIn(who.signInName(), "copper kettle", "/");
      return browser;
    });
  }

  private Answer post(Person who, String page, String action, Map<String, String> form) {
    Browser browser = signedIn(who);
    Map<String, String> fields = new HashMap<>(form);
    fields.put("csrf", browser.get(page).hidden("csrf"));
    return browser.post(action, fields);
  }

  private void threeHours() {
    Answer answer = post(
        isolde, "/hours?cohort=" + first.id(), "/hours",
        Map.of("cohort", first.id().toString(), "day", "2026-11-24", "hours", "3", "present", wren.id().toString()));
    assertEquals(303, answer.status(), answer.body());
  }

  private String said(String kind) {
    return ledger.ofKinds(List.of(kind), now.plusSeconds(1)).stream().map(LogEntry::body).reduce("", (a, b) -> a + b + "\n");
  }

  @Test
  void aChangeIsShownBeforeItIsMadeAndMadeForTheChosenCohortOnly() {
    threeHours();
    assertTrue(competencies.of(wren.id(), now).of("patience").isMet());
    String address = "/programme/change?edition=" + NEWER.edition() + "&cohort=" + first.id();
    String shown = signedIn(magnus).get(address).body();
    assertTrue(shown.contains("<strong>1</strong> would lose one"), shown);
    assertTrue(shown.contains("7 hours more at the bench (3 hours of 10 by now)"), shown);
    assertTrue(shown.contains("1 new to do"), shown);
    assertTrue(competencies.of(wren.id(), now).of("patience").isMet(), "looking changes nothing");

    Map<String, String> form = Map.of("edition", NEWER.edition(), "cohort", first.id().toString(), "reason", "The guild asks for more.");
    now = NOON.plusSeconds(3600);
    assertEquals(303, post(magnus, address, "/programme/moves", form).status());
    assertFalse(competencies.of(wren.id(), now).of("patience").isMet());
    assertEquals(NEWER, competencies.programmeOf(wren.id(), now));
    assertEquals(OLDER, competencies.programmeOf(wren.id(), NOON), "as of before, the older edition counts");
    assertTrue(competencies.of(wren.id(), NOON).of("patience").isMet());
    assertTrue(competencies.of(List.of(wren.id()), now, OLDER).get(wren.id()).of("patience").isMet(), "and can be asked for");
    assertTrue(said("programme-move").contains("The guild asks for more."), said("programme-move"));
    assertEquals(409, post(magnus, address, "/programme/moves", form).status(), "it is there already");
    assertEquals(1, said("programme-move").lines().count());
  }

  @Test
  void onlyCoordinatorsMoveCohorts() {
    Map<String, String> form = Map.of("edition", NEWER.edition(), "cohort", first.id().toString(), "reason", "So.");
    assertEquals(403, post(isolde, "/hours", "/programme/moves", form).status());
    assertEquals(403, post(wren, "/record", "/programme/moves", form).status());
    assertEquals("", said("programme-move"));
    assertEquals(
        400,
        post(magnus, "/programme", "/programme/moves", Map.of("edition", NEWER.edition(), "cohort", first.id().toString()))
            .status(), "without a reason");
  }

  @Test
  void priorLearningCountsUntilItIsWithdrawnAndBothEnterTheLog() {
    String record = "/record/" + bram.id();
    Map<String, String> grant = Map.of("competency", "braces", "reason", "Three years in a shop; a brace set before me.");
    assertEquals(403, post(bram, record, record + "/prior-learning", grant).status());
    assertEquals(303, post(isolde, record, record + "/prior-learning", grant).status());
    assertEquals("Complete by prior learning.", competencies.of(bram.id(), now).of("braces").sentence());
    assertFalse(competencies.of(bram.id(), NOON.minusSeconds(1)).of("braces").isMet());
    assertTrue(said("equivalence").contains("a brace set before me"));
    UUID id = competencies.of(bram.id(), now).of("braces").equivalence().orElseThrow().id();
    now = NOON.plusSeconds(60);
    Map<String, String> why = Map.of("reason", "The papers were another's.");
    assertEquals(303, post(magnus, record, "/prior-learning/" + id + "/withdrawal", why).status());
    assertFalse(competencies.of(bram.id(), now).of("braces").isMet());
    assertTrue(competencies.of(bram.id(), NOON).of("braces").isMet(), "as of before, it still counted");
    assertEquals(409, post(magnus, record, "/prior-learning/" + id + "/withdrawal", why).status());
    assertTrue(said("equivalence-withdrawal").contains(id.toString()));
  }

  @Test
  void hoursAreCorrectedByALaterEntry() {
    threeHours();
    String hours = "/hours?cohort=" + first.id();
    String page = signedIn(isolde).get(hours).body();
    String action = page.substring(page.indexOf("/hours/"), page.indexOf("/correction") + "/correction".length());
    now = NOON.plusSeconds(60);
    assertEquals(303, post(isolde, hours, action, Map.of("hours", "1.5", "reason", "Left early.")).status());
    assertEquals(90, competencies.of(wren.id(), now).of("patience").minutes());
    assertEquals(180, competencies.of(wren.id(), NOON).of("patience").minutes());
    assertEquals(409, post(isolde, hours, action, Map.of("hours", "2", "reason", "Again.")).status());
    assertEquals(400, post(isolde, hours, "/hours", Map.of(
        "cohort", first.id().toString(), "day", "2026-11-26", "hours", "3", "present", wren.id().toString())).status(), "tomorrow");
    assertEquals(403, post(wren, "/record", "/hours", Map.of()).status());
  }

  @Test
  void whatIsLeftIsSaidOnTheRecord() {
    threeHours();
    String record = signedIn(wren).get("/record").body();
    assertTrue(record.contains("3 hours"), record);
    String other = signedIn(magnus).get("/record/" + wren.id() + "?edition=" + NEWER.edition()).body();
    assertTrue(other.contains("What is left"), other);
    assertTrue(other.contains("7 hours more at the bench"), other);
    assertTrue(other.contains("only to look"), other);
    assertEquals(404, signedIn(magnus).get("/record/" + wren.id() + "?edition=none").status());
  }
}

package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.BenchRecord;
import ferrule.bench.Criterion;
import ferrule.bench.Entries;
import ferrule.bench.Grade;
import ferrule.bench.RecordStore;
import ferrule.bench.Signature;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.bench.TaskReader;
import ferrule.competency.AsOf;
import ferrule.competency.Competencies;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.competency.EditionStore;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.EvidenceSource;
import ferrule.competency.HoursStore;
import ferrule.competency.NameScope;
import ferrule.competency.NamingStore;
import ferrule.competency.Programme;
import ferrule.competency.ProgrammeReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.ledger.LedgerStore;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.table.Printout;
import ferrule.report.table.TableFormat;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.Browser.Answer;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
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

class ReportPagesTest {

  private static final TaskBook TASKS = TaskReader.readBook(Curriculum.bundled(), new Problems());
  private static final Glossary TRUMPET =
      GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();
  private static final Programme PROGRAMME =
      ProgrammeReader.read(Curriculum.bundled(), TASKS, List.of(TRUMPET), new Problems()).orElseThrow();
  private static final ZoneId ZONE = ZoneId.of("Europe/Rome");
  private static final Clock CLOCK = Clock.fixed(Instant.parse("2026-11-25T12:00:00Z"), ZoneOffset.UTC);

  private final Person wren = person("wren", "=Wren \"Aldous\", twice", Role.APPRENTICE);
  private final Person bram = person("bram", "Bram Øko", Role.APPRENTICE);
  private final Person instructor = person("isolde", "Isolde", Role.INSTRUCTOR);
  private final Person coordinator = person("magnus", "Magnus", Role.COORDINATOR);
  private final Cohort cohort =
      new Cohort(UUID.randomUUID(), "First year", "e1", LocalDate.of(2026, 9, 7), LocalDate.of(2027, 6, 25));

  private Database database;
  private RecordStore records;
  private PeopleStore people;
  private Desk desk;
  private WebServer server;

  private static Person person(String name, String fullName, Role role) {
    return new Person(UUID.randomUUID(), name, fullName, role, Optional.empty());
  }

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    people = new PeopleStore(database, CLOCK);
    for (Person p : List.of(wren, bram, instructor, coordinator)) {
      people.add(p, Optional.of("copper kettle"), Optional.empty());
    }
    people.add(cohort);
    people.join(cohort.id(), wren.id(), cohort.startsOn(), Optional.empty());
    people.join(cohort.id(), bram.id(), cohort.startsOn(), Optional.empty());
    records = new RecordStore(database, CLOCK);
    LedgerStore ledger = new LedgerStore(database);
    Competencies competencies = new Competencies(
        PROGRAMME, new EditionStore(database, ledger),
        new EvidenceSource(
            records, new NamingStore(database), new NameScope(List.of(TRUMPET), Set::of), new HoursStore(database),
            new EquivalenceStore(database, ledger), ZONE));
    desk = new Desk(competencies, people, CLOCK, ZONE);
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people,
        List.of(
            new CompetencyPages(desk, new EquivalenceStore(database, ledger), new HoursStore(database)),
            new ReportPages(desk), new PacePages(desk)));
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private Browser signedIn(Person who) {
    Browser browser = new Browser(server.port());
    browser.signIn(who.signInName(), "copper kettle", "/");
    return browser;
  }

  /** Sound work on the fit of a slide, signed at an instant. */
  private void slideSigned(Person apprentice, String tag, String at) {
    Task task = TASKS.find(TaskId.of("slide-fit-and-alignment")).orElseThrow();
    Map<String, Integer> levels = new HashMap<>();
    Map<String, String> readings = new HashMap<>();
    Map<String, String> uppers = new HashMap<>();
    for (Criterion c : task.criteria()) {
      if (c instanceof Criterion.Rated rated) {
        levels.put(c.id(), rated.passLevel());
      } else {
        readings.put(c.id(), "0.05");
        uppers.put(c.id(), "0.2");
      }
    }
    Grade grade = Grade.of(
        apprentice.id(), apprentice.fullName(), task, tag,
        new Entries(true, levels, readings, Map.of(), uppers, "", ""));
    records.append(
        new BenchRecord.SignOff(
            UUID.randomUUID(), UUID.randomUUID(), grade,
            new Signature(instructor.id(), instructor.fullName(), Instant.parse(at)), TASKS.edition()));
  }

  private String page(String query) {
    Answer answer = signedIn(coordinator).get("/cohorts/" + cohort.id() + query);
    assertEquals(200, answer.status(), answer.body());
    return answer.body();
  }

  @Test
  void theDayEndsInTheSchoolsZone() {
    slideSigned(wren, "T-01", "2026-11-10T18:00:00Z");
    // the 20th in Rome, where it is an hour later
    slideSigned(wren, "T-02", "2026-11-19T23:30:00Z");
    String missing = "one more sign-off of “Slide fit and alignment”, on a second instrument";
    String fitting = "&competency=slide-fitting";
    assertTrue(page("?as-of=2026-11-19" + fitting).contains(missing));
    assertFalse(page("?as-of=2026-11-20" + fitting).contains(missing));
    assertTrue(page("?as-of=2026-11-20").contains("1 of 2"), "one of two apprentices has completed it");
    assertFalse(page("?competency=slide-fitting").contains(missing));
  }

  @Test
  void aCellLeadsToTheEvidenceOfThatMoment() {
    slideSigned(wren, "T-01", "2026-11-10T18:00:00Z");
    String body = page("?as-of=2026-11-20");
    String link = "/record/" + wren.id() + "?as-of=2026-11-20";
    assertTrue(body.contains(link + "#slide-fitting"));
    String record = signedIn(coordinator).get(link).body();
    assertTrue(record.contains("sound work on"), record);
    assertTrue(record.contains("10 November 2026"));
    assertFalse(signedIn(coordinator).get("/record/" + wren.id() + "?as-of=2026-11-09").body().contains("sound work on"));
  }

  @Test
  void theFileHoldsWhatThePageShowsAndNoFormula() {
    slideSigned(wren, "T-01", "2026-11-10T18:00:00Z");
    Answer file = signedIn(instructor).get("/cohorts/" + cohort.id() + "/competencies.csv?as-of=2026-11-20");
    assertEquals("text/csv;charset=utf-8", file.header("Content-Type").replace(" ", "").toLowerCase());
    assertTrue(file.header("Content-Disposition").endsWith("first-year-2026-11-20.csv"), file.header("Content-Disposition"));
    assertTrue(file.body().contains("\"'=Wren \"\"Aldous\"\", twice\""), file.body());
    assertTrue(file.body().contains("Bram Øko"));
    assertTrue(file.body().contains("one more sign-off of “Slide fit and alignment”, on a second instrument"));
  }

  @Test
  void anApprenticeSeesTheirOwnRecordAndNoOther() {
    Browser apprentice = signedIn(wren);
    assertEquals(200, apprentice.get("/record").status());
    assertEquals(200, apprentice.get("/record/" + wren.id()).status());
    assertEquals(404, apprentice.get("/record/" + bram.id()).status());
    assertEquals(403, apprentice.get("/cohorts").status());
    assertEquals(403, apprentice.get("/cohorts/" + cohort.id() + "/competencies.csv").status());
    assertEquals(200, signedIn(instructor).get("/record/" + wren.id()).status());
    assertEquals(404, signedIn(instructor).get("/record/" + coordinator.id()).status());
  }

  @Test
  void whoLacksSolderingAndWhyTakesTwoSteps() {
    String list = signedIn(coordinator).get("/cohorts").body();
    assertTrue(list.contains("action=\"/cohorts/" + cohort.id() + "\""), list);
    String found = page("?q=Solder");
    assertTrue(found.contains("<h2>Soldering</h2>"), found);
    assertTrue(found.contains("Bram Øko"));
    assertTrue(found.contains("three sign-offs of “Soldering a loose brace”, on two different instruments"), found);
  }

  @Test
  void aFilterStandsInTheAddressAndLeavesOnlyWhatItSays() {
    slideSigned(wren, "T-01", "2026-11-10T18:00:00Z");
    slideSigned(wren, "T-02", "2026-11-11T18:00:00Z");
    String lacking = page("?show=lacking&area=slides-and-keys&q=slide+fitting");
    assertTrue(lacking.contains("Bram Øko"));
    assertFalse(lacking.contains("Wren"), "whoever has it does not lack it");
    assertTrue(page("?q=bram").contains("1 of 2 apprentices"));
    assertTrue(page("?q=nothing+of+ours").contains("Nothing is like that."));
    assertEquals(400, signedIn(coordinator).get("/cohorts/" + cohort.id() + "?show=all").status());
    assertEquals(404, signedIn(coordinator).get("/cohorts/" + cohort.id() + "?area=none").status());
    String csv = signedIn(coordinator).get(
        "/cohorts/" + cohort.id() + "/competencies.csv?show=lacking&q=slide+fitting").body();
    assertEquals(2, csv.lines().count(), "the heading and Bram: " + csv);
  }

  @Test
  void whoHadLeftThenIsNotInTheReportOfThatDayAndWhoHadNotIs() {
    people.leave(bram.id(), LocalDate.of(2026, 11, 20));
    assertTrue(page("?as-of=2026-11-19").contains("Bram"));
    assertFalse(page("?as-of=2026-11-20").contains("Bram"));
    assertFalse(page("?as-of=2026-09-01").contains("Bram"), "the cohort began later");
    assertTrue(page("?as-of=2026-11-20&leavers=yes").contains("Bram"));
  }

  @Test
  void thePaceSaysWhatOpensMostAndIsAFileToo() {
    String pace = signedIn(coordinator).get("/cohorts/" + cohort.id() + "/pace").body();
    assertTrue(pace.contains("too early to tell"), pace);
    assertTrue(pace.contains("opens Push-button water keys, Ready for the service bench"), pace);
    for (String file : List.of("pace.csv", "pace.xlsx", "pace.pdf", "openings.csv", "openings.xlsx")) {
      assertEquals(200, signedIn(instructor).get("/cohorts/" + cohort.id() + "/" + file).status(), file);
    }
    assertEquals(403, signedIn(wren).get("/cohorts/" + cohort.id() + "/pace").status());
    assertTrue(signedIn(wren).get("/record").body().contains("The way ahead"));
  }

  @Test
  void aDateThatIsNoneIsRefused() {
    assertEquals(400, signedIn(coordinator).get("/cohorts/" + cohort.id() + "?as-of=yesterday").status());
    assertEquals(404, signedIn(coordinator).get("/cohorts/" + UUID.randomUUID()).status());
  }

  @Test
  void aListTooLongForPaperTellsHowManyLinesEachHas() throws IOException {
    CohortReport report = longOver(100);
    int lines = 100 * PROGRAMME.areas().stream().mapToInt(a -> a.competencies().size()).sum();
    List<Printout.Section> sections = CohortTables.printout(report).sections();
    Printout.Section last = sections.get(sections.size() - 1);
    assertTrue(last.says().get(0).startsWith(lines + " lines are too many for paper"), last.says().toString());
    ByteArrayOutputStream csv = new ByteArrayOutputStream();
    last.table().orElseThrow().write(TableFormat.CSV, csv);
    List<String> rows = csv.toString(StandardCharsets.UTF_8).lines().skip(1).toList();
    assertEquals(100, rows.size());
    String each = lines / 100 + "," + lines / 100 + ",0";
    assertTrue(rows.stream().allMatch(r -> r.endsWith(each)), rows.get(0));
  }

  @Test
  void aReportTooLargeToBeSetAtOnceIsSetInParts() {
    assertEquals(List.of("Over, 3"), CohortTables.parts(longOver(3)).stream().map(Printout::title).toList());
    CohortReport report = longOver(400);
    List<Printout> parts = CohortTables.parts(report);
    assertTrue(parts.size() > 1);
    assertEquals("Over, 400, part 1 of " + parts.size(), parts.get(0).title());
    assertEquals(
        headings(List.of(CohortTables.printout(report))), headings(parts), "nothing is lost, and nothing is there twice");
    for (Printout part : parts) {
      int cells = part.sections().stream().mapToInt(Printout.Section::cells).sum();
      assertTrue(cells <= 3_000 || part.sections().size() == 1, part.title() + " has " + cells + " cells");
    }
  }

  private static List<String> headings(List<Printout> parts) {
    return parts.stream().flatMap(p -> p.sections().stream()).map(s -> s.heading() + ", " + s.cells() + " cells").toList();
  }

  /** The report of a cohort of so many that is over, and in which nobody has shown anything. */
  private CohortReport longOver(int apprentices) {
    Cohort over = new Cohort(UUID.randomUUID(), "Over, " + apprentices, "e1", LocalDate.of(2025, 9, 1), LocalDate.of(2026, 6, 26));
    people.add(over);
    for (int i = 0; i < apprentices; i++) {
      Person one = person("many" + i + "of" + apprentices, "Invented " + i, Role.APPRENTICE);
      people.add(one, Optional.empty(), Optional.empty());
      people.join(over.id(), one.id(), over.startsOn(), Optional.empty());
    }
    AsOf today = desk.asOf(Optional.empty());
    return CohortReport.of(over, desk.apprentices(over, today, true), desk.competencies(), today, PROGRAMME);
  }
}

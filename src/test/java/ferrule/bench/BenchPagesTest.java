package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.device.DeviceStore;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.ProofFile;
import ferrule.ledger.Proofs;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.Procedure;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.Browser.Answer;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.BufferedReader;
import java.io.StringReader;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class BenchPagesTest {

  private final Person apprentice = person("wren", Role.APPRENTICE);
  private final Person otherApprentice = person("bram", Role.APPRENTICE);
  private final Person instructor = person("isolde", Role.INSTRUCTOR);
  private final Person otherInstructor = person("tobias", Role.INSTRUCTOR);

  private Database database;
  private BenchStore bench;
  private RecordStore records;
  private WebServer server;

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    Clock clock = Clock.systemUTC();
    PeopleStore people = new PeopleStore(database, clock);
    people.add(apprentice, Optional.of("copper kettle"), Optional.empty());
    people.add(otherApprentice, Optional.of("copper kettle"), Optional.empty());
    people.add(instructor, Optional.of("brass lantern"), Optional.of("2468"));
    people.add(otherInstructor, Optional.of("brass lantern"), Optional.empty());
    bench = new BenchStore(database, clock);
    records = new RecordStore(database, clock);
    bench.addIfNew(new LoanInstrument(UUID.randomUUID(), "T-07", "trumpet", "student model", Optional.empty()));
    Bench all =
        new Bench(
            Samples.TASKS, bench, records, new PhotoStore(database, clock), new QueueStore(database, clock),
            new BlindStore(database, clock), new AuthorityStore(database, clock), people,
            new Proofs(new LedgerStore(database), new HeadStore(database, HeadSigner.passing(), clock)), ZoneOffset.UTC);
    DeviceStore devices = new DeviceStore(database, clock);
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people,
        List.of(
            new BenchPages(all, devices), new DraftPages(all, devices), new GroupPages(all), new PhotoPages(all), new QueuePages(all),
            new RecordPages(all), new SecondPages(all), new InstrumentPages(all), new AuthorityPages(all)));
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private Browser signedIn(Person who) {
    Browser browser = new Browser(server.port());
    browser.signIn(who.signInName(), who.role() == Role.APPRENTICE ? "copper kettle" : "brass lantern", "/");
    return browser;
  }

  private static Map<String, String> form(Answer page, String... more) {
    Map<String, String> fields = new HashMap<>(Map.of("csrf", page.hidden("csrf")));
    for (int i = 0; i < more.length; i += 2) {
      fields.put(more[i], more[i + 1]);
    }
    return fields;
  }

  /** Begins a draft and confirms its cautions; returns its address. */
  private String begin(Browser browser) {
    Answer start = browser.get("/bench");
    Answer begun = browser.post("/bench/drafts", form(
        start, "apprentice", apprentice.id().toString(), "task", Samples.WATER_KEY.value(), "tag", "T-07"));
    assertEquals(303, begun.status());
    Answer before = browser.get(begun.location());
    assertTrue(before.body().contains("Springs that fly"), "the cautions stand where the work begins");
    assertFalse(before.body().contains("name=\"level.seat\""), "nothing is graded before they are confirmed");
    browser.post(begun.location() + "/cautions", form(before));
    return begun.location();
  }

  private static String[] soundEntries(String... more) {
    String[] entries = {
      "level.cup-clean", "3", "level.fit-in-cup", "4", "level.seat", "4", "level.seal", "2", "level.spring", "4",
      "lower.opening", "2", "upper.opening", "4", "reading.opening", "2.5"
    };
    String[] all = java.util.Arrays.copyOf(entries, entries.length + more.length);
    System.arraycopy(more, 0, all, entries.length, more.length);
    return all;
  }

  private Answer review(Browser browser, String draft) {
    Answer grading = browser.get(draft);
    Answer kept = browser.post(draft, form(grading, soundEntries("go", "review", "note", "Nipple <dressed>.")));
    assertEquals(draft + "/review", kept.location());
    return browser.get(draft + "/review");
  }

  @Test
  void aGradeIsSignedByThePinAfterItWasShownInFull() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    for (String shown : List.of(
        "Invented wren", "T-07", "Held evenly all the way round", "2.5 mm, within the limits", "Nipple &lt;dressed&gt;.")) {
      assertTrue(review.body().contains(shown), shown);
    }
    Answer signed = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468"));
    assertEquals(303, signed.status());
    assertTrue(browser.get(signed.location()).body().contains("Record 1: Sign-off"));

    Answer again = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468"));
    assertEquals(signed.location(), again.location(), "a second tap leads to the same record");
    assertEquals(1, records.size());
  }

  @Test
  void aWrongPinSignsNothingAndLosesNothing() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    Answer wrong = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "1111"));
    assertEquals(422, wrong.status());
    assertTrue(wrong.body().contains("4 more tries are left"), wrong.body());
    assertTrue(wrong.body().contains("2.5 mm"));
    for (int i = 0; i < 4; i++) {
      wrong = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "1111"));
    }
    assertTrue(wrong.body().contains("Too many wrong PINs"), wrong.body());
    Answer right = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468"));
    assertEquals(422, right.status(), "locked is locked, for the right one too");
    assertEquals(0, records.size());
    assertTrue(browser.get(draft).body().contains("value=\"2.5\""));
  }

  @Test
  void withoutAPinOneIsToldToSetIt() {
    Browser browser = signedIn(otherInstructor);
    String draft = begin(browser);
    assertTrue(review(browser, draft).body().contains("You have not set a PIN yet"));
  }

  @Test
  void whatChangedSinceItWasShownIsShownAgainInsteadOfSigned() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    browser.post(draft, form(browser.get(draft), soundEntries("reading.opening", "3.9", "go", "later")));
    Answer stale = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468"));
    assertEquals(409, stale.status());
    assertTrue(stale.body().contains("3.9 mm"), stale.body());
    assertEquals(0, records.size());
  }

  @Test
  void whatIsOpenOrCannotBeReadIsMarkedAndKept() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer kept = browser.post(draft, form(
        browser.get(draft), "level.seat", "2", "reading.opening", "wide", "upper.opening", "4", "go", "review"));
    assertEquals(422, kept.status());
    assertTrue(kept.body().contains("5 criteria are still open"), kept.body());
    assertTrue(kept.body().contains("a number in mm"));
    assertTrue(kept.body().contains("value=\"wide\""));
    assertTrue(browser.get("/bench").body().contains("5 criteria to go"), "the draft waits on the bench page");
  }

  @Test
  void theVerdictComesAtOnceForTheScript() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer verdicts = browser.post(draft + "/keep", form(browser.get(draft), soundEntries("reading.opening", "4.01")));
    assertEquals(200, verdicts.status());
    assertTrue(verdicts.body().contains("read it again on a finer gauge"), verdicts.body());
    assertTrue(verdicts.body().contains("The work stands as: sound"), verdicts.body());
  }

  @Test
  void aDraftIsItsInstructorsAndARecordItsApprentices() throws java.io.IOException {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    assertEquals(404, signedIn(otherInstructor).get(draft).status());
    assertEquals(403, signedIn(apprentice).get(draft).status());
    Answer review = review(browser, draft);
    String record =
        browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468")).location();
    assertEquals(200, signedIn(apprentice).get(record).status());
    assertEquals(404, signedIn(otherApprentice).get(record).status());
    assertEquals(200, signedIn(otherInstructor).get(record).status());
    assertFalse(signedIn(apprentice).get(record).body().contains("/withdraw\""));
    assertTrue(signedIn(apprentice).get(record).body().contains("none: it is the only record"), "the path of its proof");
    assertInstanceOf(ProofFile.Proven.class, ProofFile.check(
        new BufferedReader(new StringReader(signedIn(apprentice).get(record + "/proof.jsonl").body())),
        Optional.empty(), Optional.empty()));
    assertEquals(404, signedIn(otherApprentice).get(record + "/proof.jsonl").status());
  }

  @Test
  void aCorrectionAndAWithdrawalAreNewRecordsWithAReason() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    String record =
        browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468")).location();

    String correction = browser.post(record + "/correct", form(browser.get(record))).location();
    Answer noReason = browser.post(correction, form(browser.get(correction), soundEntries("go", "review")));
    assertEquals(422, noReason.status());
    assertTrue(noReason.body().contains("Say why you correct the record"));
    browser.post(correction, form(browser.get(correction), soundEntries(
        "level.seal", "1", "reason", "The tester had been left open.", "go", "review")));
    Answer second = browser.get(correction + "/review");
    String corrected =
        browser.post(correction + "/sign", form(second, "shown", second.hidden("shown"), "pin", "2468")).location();
    assertTrue(browser.get(corrected).body().contains("Record 2: Correction"));
    assertTrue(browser.get(record).body().contains("This record no longer counts"));
    assertEquals(409, browser.get(record + "/withdraw").status(), "a record is taken back once");

    Answer withdrawing = browser.get(corrected + "/withdraw");
    assertEquals(422, browser.post(corrected + "/withdraw", form(withdrawing, "pin", "2468")).status());
    Answer withdrawn = browser.post(
        corrected + "/withdraw", form(withdrawing, "reason", "Another apprentice's work.", "pin", "2468"));
    assertTrue(browser.get(withdrawn.location()).body().contains("Record 3: Withdrawal"));
    assertEquals(3, records.size());
    assertTrue(new LedgerStore(database).check(Optional.empty()) instanceof LogCheck.Sound);
  }

  @Test
  void outsideTheirAuthorityAnInstructorNeitherBeginsNorSignsNorWithdraws() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    Answer signed = browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468"));
    String second = begin(browser);
    Answer secondReview = review(browser, second);

    AuthorityStore authorities = new AuthorityStore(database, Clock.systemUTC());
    authorities.give(
        instructor.id(), new Authority(Map.of(Procedure.Area.METALWORK, Task.Level.ADVANCED)), otherInstructor.id());
    Answer refused =
        browser.post(second + "/sign", form(secondReview, "shown", secondReview.hidden("shown"), "pin", "2468"));
    assertEquals(422, refused.status());
    assertTrue(refused.body().contains("You have no authority in"), refused.body());
    assertEquals(1, records.size());
    Answer start = browser.get("/bench");
    assertEquals(422, browser.post("/bench/drafts", form(
        start, "apprentice", apprentice.id().toString(), "task", Samples.WATER_KEY.value(), "tag", "T-07")).status());
    assertEquals(403, browser.post(signed.location() + "/correct", form(start)).status());
    assertEquals(403, browser.post(signed.location() + "/withdraw", form(start, "reason", "Why", "pin", "2468")).status());
    assertEquals(403, browser.post("/bench/authority/" + instructor.id(), form(start)).status(), "not by themselves");
  }

  @Test
  void whoGradesBlindDoesNotSeeTheFirstGradeMeanwhile() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    Answer review = review(browser, draft);
    String record =
        browser.post(draft + "/sign", form(review, "shown", review.hidden("shown"), "pin", "2468")).location();
    assertEquals(400, browser.post(record + "/blind", form(browser.get("/bench"))).status(), "not one's own");

    Browser other = signedIn(otherInstructor);
    String blind = other.post(record + "/blind", form(other.get("/bench"))).location();
    assertEquals(409, other.get(record).status());
    other.post(blind + "/cautions", form(other.get(blind)));
    Answer grading = other.get(blind);
    assertFalse(grading.body().contains(" checked"), "nothing of the first grade is in the form");
    other.post(blind, form(grading, soundEntries("level.seal", "1", "go", "review")));
    Answer kept = other.post(blind + "/keep-blind", form(other.get(blind + "/review")));
    assertEquals(record, kept.location());
    assertTrue(other.get(record).body().contains("Seal under air: level 1 of 2, signed as level 2 of 2."));
    assertFalse(signedIn(apprentice).get(record).body().contains("Graded blind"), "it is not about the apprentice");
    assertEquals(1, records.size(), "and enters no log");
  }

  @Test
  void aFormWithoutItsSecretIsRefused() {
    Browser browser = signedIn(instructor);
    String draft = begin(browser);
    assertEquals(403, browser.post(draft + "/discard", Map.of("csrf", "guessed")).status());
    assertEquals(1, bench.openDrafts(instructor.id()).size());
  }
}

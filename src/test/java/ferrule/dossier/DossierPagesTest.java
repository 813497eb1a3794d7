package ferrule.dossier;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.RecordStore;
import ferrule.bench.TaskReader;
import ferrule.competency.Competencies;
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
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.ProofFile;
import ferrule.ledger.Proofs;
import ferrule.ledger.Statement;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.store.jooq.Tables;
import ferrule.web.Browser;
import ferrule.web.HandClock;
import ferrule.web.Browser.Answer;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class DossierPagesTest {

  private static final Glossary TRUMPET =
      GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();
  private static final Programme PROGRAMME = ProgrammeReader.read(
      Curriculum.bundled(), TaskReader.readBook(Curriculum.bundled(), new Problems()), List.of(TRUMPET),
      new Problems()).orElseThrow();
  private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");

  private final HandClock clock = new HandClock(NOON);
  private final HeadSigner signer = HeadSigner.passing();
  private final Person wren = person("wren", "Wren <i>Invented</i>", Role.APPRENTICE);
  private final Person bram = person("bram", "Bram Invented", Role.APPRENTICE);
  private final Person instructor = person("isolde", "Isolde Invented", Role.INSTRUCTOR);

  private final Map<Person, Browser> browsers = new HashMap<>();
  private Database database;
  private LedgerStore ledger;
  private WebServer server;

  private static Person person(String name, String fullName, Role role) {
    return new Person(UUID.randomUUID(), name, fullName, role, Optional.empty());
  }

  @BeforeAll
  void open() {
    database = RealDatabases.h2();
    PeopleStore people = new PeopleStore(database, clock);
    for (Person p : List.of(wren, bram, instructor)) {
      people.add(p, Optional.of("copper kettle"), Optional.empty());
    }
    ledger = new LedgerStore(database);
    Competencies competencies = new Competencies(
        PROGRAMME, new EditionStore(database, ledger),
        new EvidenceSource(
            new RecordStore(database, clock), new NamingStore(database), new NameScope(List.of(TRUMPET), Set::of),
            new HoursStore(database), new EquivalenceStore(database, ledger), ZoneOffset.UTC));
    Proofs proofs = new Proofs(ledger, new HeadStore(database, signer, clock));
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people,
        List.of(new DossierPages(
            new DossierBook(competencies, ledger, proofs, clock, ZoneOffset.UTC), new LinkStore(database, clock), people,
            clock, ZoneOffset.UTC)));
    say(wren, "Slide fitting learned elsewhere.");
    say(bram, "Nothing of Wren's.");
  }

  @AfterAll
  void close() {
    server.close();
    database.close();
  }

  /** Something that is said for good about an apprentice. */
  private void say(Person about, String reason) {
    database.inTransaction(dsl -> ledger.append(dsl, NOON, at -> {
      var json = Statement.begin("equivalence", UUID.randomUUID(), instructor.id(), instructor.fullName(), at);
      json.putObject("apprentice").put("id", about.id().toString()).put("name", about.fullName());
      return json.put("competency", "slide-fitting").put("reason", reason);
    }));
  }

  private Browser signedIn(Person who) {
    return browsers.computeIfAbsent(who, w -> {
      Browser browser = new Browser(server.port());
      browser.signIn(w.signInName(), "copper kettle", "/");
      return browser;
    });
  }

  private String makeLink(Browser browser, String purpose) {
    String secret = browser.get("/my-links").hidden("csrf");
    Answer made = browser.post("/my-links", Map.of("csrf", secret, "purpose", purpose, "days", "7"));
    assertEquals(200, made.status(), made.body());
    Matcher link = Pattern.compile("https?://[^/]+/at/main(/shared/[A-Za-z0-9_-]{43})<").matcher(made.body());
    assertTrue(link.find(), made.body());
    return link.group(1);
  }

  private static ProofFile.Result checked(String file, HeadSigner signer) throws IOException {
    return ProofFile.check(
        new BufferedReader(new StringReader(file)), Optional.empty(), Optional.of(signer.key()));
  }

  @Test
  void whoeverHasTheLinkReadsThisRecordAndNoOtherWithoutSigningIn() throws IOException {
    String link = makeLink(signedIn(wren), "the harbour workshop");
    Browser stranger = new Browser(server.port());
    Answer page = stranger.get(link);
    assertEquals(200, page.status(), page.body());
    assertTrue(page.body().contains("Wren &lt;i&gt;Invented&lt;/i&gt;"));
    assertTrue(page.body().contains("the harbour workshop"));
    assertTrue(page.body().contains("Slide fitting learned elsewhere."));
    assertFalse(page.body().contains("Nothing of Wren"));
    assertTrue(page.header("X-Robots-Tag").contains("noindex"));
    assertEquals("no-referrer", page.header("Referrer-Policy"));
    ProofFile.Proven proven =
        assertInstanceOf(ProofFile.Proven.class, checked(stranger.get(link + "/proof.jsonl").body(), signer));
    assertEquals(1, proven.records());
    assertEquals(2, proven.heads().get(0).head().size());
  }

  @Test
  void aLinkOpensNothingOnceItHasExpiredOrWasRevoked() {
    Browser browser = signedIn(wren);
    String first = makeLink(browser, "first");
    String second = makeLink(browser, "second");
    Browser stranger = new Browser(server.port());
    assertEquals(200, stranger.get(first).status());
    assertEquals(200, stranger.get(second).status());
    Answer list = browser.get("/my-links");
    assertTrue(list.body().contains("opened once"), list.body());
    Matcher revoke = Pattern.compile("action=\"(/my-links/[0-9a-f-]+/revoke)\"").matcher(list.body());
    assertTrue(revoke.find());
    String secret = list.hidden("csrf");
    assertEquals(404, revokeAs(signedIn(bram), revoke.group(1)), "nobody revokes another's link");
    assertEquals(303, browser.post(revoke.group(1), Map.of("csrf", secret)).status());
    assertEquals(409, browser.post(revoke.group(1), Map.of("csrf", secret)).status());
    boolean firstWasRevoked = stranger.get(first).status() == 404;
    assertTrue(firstWasRevoked || stranger.get(second).status() == 404);
    String open = firstWasRevoked ? second : first;
    assertEquals(404, stranger.get((firstWasRevoked ? first : second) + "/record.pdf").status());
    assertEquals(200, stranger.get(open).status());
    clock.set(NOON.plus(Duration.ofDays(7)));
    assertEquals(404, stranger.get(open).status());
    assertEquals(404, stranger.get(open + "/proof.jsonl").status());
    assertEquals(404, stranger.get("/shared/nothing").status());
    clock.set(NOON);
  }

  private static int revokeAs(Browser browser, String path) {
    return browser.post(path, Map.of("csrf", browser.get("/my-links").hidden("csrf"))).status();
  }

  @Test
  void theTableHoldsNoTokenThatOpensARecord() {
    String link = makeLink(signedIn(wren), "anyone");
    String token = link.substring("/shared/".length());
    String rows = database.dsl().selectFrom(Tables.RECORD_LINK).fetch().formatCSV();
    assertFalse(rows.contains(token));
    String hash = database.dsl().select(Tables.RECORD_LINK.TOKEN_HASH).from(Tables.RECORD_LINK)
        .where(Tables.RECORD_LINK.PURPOSE.eq("anyone")).fetchSingle(Tables.RECORD_LINK.TOKEN_HASH);
    assertEquals(404, new Browser(server.port()).get("/shared/" + hash).status());
  }

  @Test
  void aLinkSaysForWhomAndHowLong() {
    Browser browser = signedIn(bram);
    String secret = browser.get("/my-links").hidden("csrf");
    assertEquals(422, browser.post("/my-links", Map.of("csrf", secret, "purpose", " ", "days", "7")).status());
    assertEquals(422, browser.post("/my-links", Map.of("csrf", secret, "purpose", "x", "days", "4000")).status());
    assertEquals(
        422, browser.post("/my-links", Map.of("csrf", secret, "purpose", "x".repeat(101), "days", "7")).status());
    assertTrue(browser.get("/my-links").body().contains("None yet."));
    assertEquals(403, signedIn(instructor).get("/my-links").status(), "only an apprentice shares their record");
  }

  @Test
  void anApprenticeHasTheirOwnPaperAndStaffReadAnyRecord() {
    String paper = "/record/" + wren.id() + "/record.pdf";
    Answer own = signedIn(wren).get(paper);
    assertEquals("application/pdf", own.header("Content-Type"));
    assertTrue(own.body().startsWith("%PDF"));
    assertEquals(200, signedIn(instructor).get("/record/" + wren.id() + "/proof.jsonl").status());
    assertEquals(404, signedIn(bram).get(paper).status());
    assertEquals(404, signedIn(bram).get("/record/" + wren.id() + "/proof.jsonl").status());
    assertEquals(303, new Browser(server.port()).get(paper).status(), "asked to sign in");
  }
}

package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.curriculum.Curriculum;
import ferrule.drill.SignedRulings;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogEntry;
import ferrule.ledger.ProofFile;
import ferrule.ledger.Proofs;
import ferrule.ledger.SignedHead;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.bundle.BundleCheck;
import ferrule.report.bundle.Headway;
import ferrule.rights.ErasedRows;
import ferrule.rights.ErasureStore;
import ferrule.store.Database;
import ferrule.store.TextColumns;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Enumeration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** An apprentice with a long history is erased, on both databases: nothing tells who they were, and everything still holds. */
class ErasureIT {

  private static final String NAME = "Wren Aldous";
  private static final String SIGN_IN = "w.aldous-07";
  private static final List<String> NUMBERS = List.of(
      "/summary/cohorts.csv", "/summary/competencies.csv", "/cohorts.csv", "/concerns.csv", "/graders.csv",
      "/graders/criteria.csv", "/graders/turnaround.csv");
  private static final List<String> NUMBERS_OF_COHORT = List.of(
      "competencies.csv", "openings.csv", "confusion.csv", "confusion-pairs.csv");

  @TempDir Path folder;

  private Database database;
  private Installation school;
  private Person wren;
  private Person magnus;

  private void open(Database fresh) {
    database = fresh;
    school = new Installation(
        Books.read(Curriculum.bundled()), fresh, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    DemoProgramme.fill(school);
    database.dsl().execute("update person set sign_in_name = ? where full_name = ?", SIGN_IN, NAME);
    wren = school.people().person(DemoProgramme.id(NAME)).orElseThrow();
    magnus = school.people().person(DemoProgramme.id("Magnus Thorley")).orElseThrow();
    Person isolde = school.people().person(DemoProgramme.id("Isolde Farrow")).orElseThrow();
    SignedRulings.rule(database, isolde.id(), "odd word", Instant.now().truncatedTo(ChronoUnit.MILLIS));
    ErasedRows.fill(database, wren, NAME + ", who signs in as " + SIGN_IN);
  }

  private List<String> where() {
    List<String> found = new ArrayList<>();
    for (TextColumns.Column column : TextColumns.in(database)) {
      for (String part : List.of("%wren%aldous%", "%aldous%wren%", "%" + SIGN_IN + "%")) {
        int rows = database.dsl().fetch(
            "select 1 from " + column.table() + " where lower(" + column.name() + ") like ?", part).size();
        if (rows > 0) {
          found.add(column + ": " + rows);
        }
      }
    }
    return found;
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void nothingTellsWhoSomebodyWasAndEverythingStillHolds(Database fresh) throws IOException {
    open(fresh);
    try (Installation closing = school) {
      school.people().leave(wren.id(), LocalDate.now());
      signOthersWorkNaming();
      List<String> before = where();
      assertTrue(before.size() > 20, before.toString());
      SignedHead old = school.heads().current();
      assertEquals(new LogCheck.Sound(old.head()), checked(old));
      List<LogEntry> entries = school.ledger().about(wren.id());
      String given = proofFile(entries, old);
      Map<String, List<String>> numbers = numbers();

      ErasureStore.Erased erased =
          school.erasures().erase(wren, magnus, "Asked for by letter; " + NAME + " left us.", LocalDate.now());

      assertEquals(List.of(), where(), "columns in which the name stands");
      assertTrue(erased.pseudonym().matches("Erased person [2-9A-HJKMNP-TV-Z]{6}"), erased.pseudonym());
      assertTrue(erased.redacted() > entries.size() - 1, erased + " of " + entries.size());
      goneForGood();
      stillHolds(old, given, erased);
      Map<String, List<String>> after = numbers();
      numbers.forEach((path, lines) -> assertEquals(
          lines.stream().map(l -> l.replace(NAME, erased.pseudonym())).sorted().toList(),
          after.get(path).stream().sorted().toList(), path));
      bundlesHold(erased);
      pagesSay(erased);
    }
  }

  /** What another apprentice's record says of the one who is erased. */
  private void signOthersWorkNaming() {
    Person other = school.people().person(DemoProgramme.id("Bram Okoro")).orElseThrow();
    database.transact(dsl -> school.ledger().append(dsl, Instant.now(), at -> {
      var said = ferrule.ledger.Statement.begin(
          "equivalence", java.util.UUID.randomUUID(), magnus.id(), magnus.fullName(), at);
      said.putObject("apprentice").put("id", other.id().toString()).put("name", other.fullName());
      return said.put("competency", "water-keys").put("reason", "Showed aldous, wren how it is done.");
    }));
  }

  private String proofFile(List<LogEntry> entries, SignedHead head) {
    Proofs proofs = new Proofs(school.ledger(), school.heads());
    return ProofFile.of(proofs.key(), head, proofs.prove(entries, head));
  }

  private static ProofFile.Result check(String proof) throws IOException {
    return ProofFile.check(new BufferedReader(new StringReader(proof)), Optional.empty(), Optional.empty());
  }

  private void goneForGood() {
    assertEquals(List.of(), ErasedRows.left(database, wren.id()));
    Person now = school.people().person(wren.id()).orElseThrow();
    assertEquals(Role.APPRENTICE, now.role());
    assertThrows(IllegalArgumentException.class, () -> school.people().comeBack(wren.id()));
    assertThrows(IllegalStateException.class, () -> school.erasures().erase(now, magnus, "Again.", LocalDate.now()));
    assertTrue(school.erasures().refusal(now).isPresent());
    assertTrue(school.erasures().refusal(magnus).isPresent(), "whoever signed stays known");
  }

  private LogCheck.Result checked(SignedHead noted) {
    return school.ledger().check(
        HeadStore.witnesses(database).with(Optional.of(noted.head())), VerifyCommand.vouched(database), done -> {});
  }

  private void stillHolds(SignedHead old, String given, ErasureStore.Erased erased) throws IOException {
    LogCheck.Result result = checked(old);
    assertEquals(erased.redacted(), assertInstanceOf(LogCheck.Sound.class, result, result.toString()).redacted());
    SignedHead head = school.heads().current();
    assertEquals(erased.number(), head.head().size());
    Proofs proofs = new Proofs(school.ledger(), school.heads());
    assertInstanceOf(ProofFile.Proven.class, check(ProofFile.of(proofs.key(), old, head, proofs.prove(old, head))));
    assertInstanceOf(ProofFile.Proven.class, check(given), "what was given out before");
    List<LogEntry> theirs = school.ledger().about(wren.id());
    assertInstanceOf(ProofFile.Proven.class, check(proofFile(theirs, head)));
    List<LogEntry> others = school.ledger().about(DemoProgramme.id("Bram Okoro"));
    assertTrue(others.stream().anyMatch(e -> e.redactedBy().equals(Optional.of(erased.number()))));
    assertInstanceOf(ProofFile.Proven.class, check(proofFile(others, head)), "of somebody whose record named them");
  }

  private Map<String, List<String>> numbers() throws IOException {
    Map<String, List<String>> all = new TreeMap<>();
    List<String> paths = new ArrayList<>(NUMBERS);
    for (Cohort cohort : school.people().cohorts()) {
      NUMBERS_OF_COHORT.forEach(table -> paths.add("/cohorts/" + cohort.id() + "/" + table));
    }
    try (WebServer server = school.serve(new WebConfig("127.0.0.1", 0, false, List.of()))) {
      Browser browser = new Browser(server.port());
      browser.signIn("magnus", "river ledger", "/");
      for (String path : paths) {
        Browser.Answer answer = browser.get(path);
        assertEquals(200, answer.status(), path);
        all.put(path, answer.body().lines().toList());
      }
    }
    return all;
  }

  private void bundlesHold(ErasureStore.Erased erased) throws IOException {
    List<Optional<Cohort>> wanted = new ArrayList<>(List.of(Optional.empty()));
    school.people().cohorts().forEach(c -> wanted.add(Optional.of(c)));
    int found = 0;
    for (Optional<Cohort> cohort : wanted) {
      Path file = Files.createTempFile(folder, "bundle", ".zip");
      try (OutputStream out = Files.newOutputStream(file)) {
        school.bundles().write(cohort, AsOf.parse(Optional.empty(), Clock.systemUTC(), ZoneOffset.UTC), out, Headway.UNWATCHED);
      }
      BundleCheck.Result result = BundleCheck.check(file, Optional.empty(), done -> {});
      assertInstanceOf(BundleCheck.Sound.class, result, result.toString());
      try (ZipFile zip = new ZipFile(file.toFile())) {
        for (Enumeration<? extends ZipEntry> all = zip.entries(); all.hasMoreElements();) {
          ZipEntry entry = all.nextElement();
          String text = new String(zip.getInputStream(entry).readAllBytes(), StandardCharsets.UTF_8);
          assertFalse(text.contains(NAME) || text.contains(SIGN_IN), entry.getName());
          found += text.contains(erased.pseudonym()) ? 1 : 0;
        }
      }
    }
    assertTrue(found > 4, "it stands under the pseudonym in " + found + " files");
  }

  private void pagesSay(ErasureStore.Erased erased) throws IOException {
    String record = database.dsl().fetchValue(
        "select id from record_log where subject_id = ? and kind = 'sign-off' order by number limit 1", wren.id()).toString();
    try (WebServer server = school.serve(new WebConfig("127.0.0.1", 0, false, List.of()))) {
      Browser browser = new Browser(server.port());
      browser.signIn("magnus", "river ledger", "/");
      for (String path : List.of(
          "/people", "/people/" + wren.id() + "/account", "/record/" + wren.id(), "/bench/records/" + record, "/cohorts")) {
        Browser.Answer answer = browser.get(path);
        assertEquals(200, answer.status(), path);
        assertFalse(answer.body().contains(NAME), path);
      }
      assertTrue(browser.get("/bench/records/" + record).body().contains("Redacted by erasure no. " + erased.number()));
      assertTrue(browser.get("/people").body().contains(erased.pseudonym()));
      assertEquals("%PDF-", new String(
          browser.getBytes("/record/" + wren.id() + "/record.pdf"), 0, 5, StandardCharsets.US_ASCII));
      assertInstanceOf(
          ProofFile.Proven.class, check(browser.get("/record/" + wren.id() + "/proof.jsonl").body()));
      Browser nobody = new Browser(server.port());
      for (String name : List.of(SIGN_IN, erased.pseudonym(), school.people().person(wren.id()).orElseThrow().signInName())) {
        assertFalse(nobody.signIn(name, "copper kettle", "/").location().equals("/"), name);
      }
    }
  }
}

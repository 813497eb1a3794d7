package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What somebody holds who has a record and no database. */
class ProofFileTest {

  private static final Instant START = Instant.parse("2026-09-01T18:00:00Z");

  private final HeadSigner signer = HeadSigner.passing();
  private LedgerStore ledger;
  private Proofs proofs;
  private Person apprentice;

  private void fill(Database database, int records) {
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    apprentice = new Person(UUID.randomUUID(), "apprentice", "Invented", Role.APPRENTICE, Optional.empty());
    people.add(apprentice, Optional.empty(), Optional.empty());
    ledger = new LedgerStore(database);
    proofs = new Proofs(ledger, new HeadStore(database, signer, Clock.systemUTC()));
    more(database, records);
  }

  private void more(Database database, int records) {
    for (int i = 0; i < records; i++) {
      database.inTransaction(dsl -> ledger.append(
          dsl, START, at -> Samples.work(UUID.randomUUID(), apprentice.id(), UUID.randomUUID(), "T-1", at)));
    }
  }

  private List<LogEntry> entries() {
    List<LogEntry> entries = new ArrayList<>();
    ledger.read(entries::add);
    return entries;
  }

  private static ProofFile.Result check(String text, Optional<TreeHead> noted, Optional<HeadKey> trusted)
      throws IOException {
    return ProofFile.check(new BufferedReader(new StringReader(text)), noted, trusted);
  }

  private static String refusal(String text) throws IOException {
    return assertInstanceOf(ProofFile.Unproven.class, check(text, Optional.empty(), Optional.empty())).sentence();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyRecordIsProvedFromTheFileAloneAndAnAlteredOneIsNot(Database database) throws IOException {
    try (database) {
      fill(database, 21);
      SignedHead head = proofs.head();
      List<ProvenEntry> all = entries().stream().map(e -> proofs.prove(e, head)).toList();
      String file = ProofFile.of(signer.key(), head, all);
      Optional<HeadKey> trusted = Optional.of(signer.key());
      assertEquals(
          new ProofFile.Proven(21, List.of(head), signer.key()), check(file, Optional.of(head.head()), trusted));
      assertEquals("line 3: record 1 (sign-off " + all.get(0).entry().id() + ") has been altered: its text does not have"
          + " the hash that stands beside it", refusal(file.replaceFirst("\"tag\":\"T-1\"", "\"tag\":\"T-2\"")));
      assertTrue(refusal(file.replace("\"number\":20,", "\"number\":19,")).contains("is not proved"));
      assertTrue(refusal(file.replaceFirst("\"at\":\"20", "\"at\":\"19")).contains("signature"));
      Optional<HeadKey> another = Optional.of(HeadSigner.passing().key());
      assertInstanceOf(ProofFile.Unproven.class, check(file, Optional.empty(), another));
      assertInstanceOf(
          ProofFile.Unproven.class, check(file, Optional.of(new TreeHead(21, "0".repeat(64))), trusted));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aRedactedRecordIsProvedTogetherWithItsErasureAndOldFilesStillHold(Database database) throws IOException {
    try (database) {
      fill(database, 9);
      SignedHead before = proofs.head();
      String given = ProofFile.of(
          signer.key(), before, entries().stream().map(e -> proofs.prove(e, before)).toList());
      LogEntry third = entries().get(2);
      Statement less = Statement.read(third.body().replace("Invented Apprentice", "Erased person 7F3K2Q"));
      database.inTransaction(dsl -> ledger.redact(dsl, START, Map.of(third, less), at -> Statement.begin(
          Erasure.KIND, UUID.randomUUID(), UUID.randomUUID(), "Invented Coordinator", at)));
      more(database, 2);
      assertInstanceOf(ProofFile.Proven.class, check(given, Optional.of(before.head()), Optional.of(signer.key())));
      SignedHead head = proofs.head();
      assertEquals(
          new LogCheck.Sound(head.head(), 1), ledger.check(HeadStore.witnesses(database), List.of(), d -> {}),
          "with the head that was signed before");
      assertInstanceOf(ProofFile.Proven.class, check(
          ProofFile.of(signer.key(), before, head, proofs.prove(before, head)), Optional.of(before.head()),
          Optional.empty()));
      List<LogEntry> one = entries().subList(2, 3);
      List<LogEntry> both = ledger.withErasures(one);
      assertEquals(List.of(3L, 10L), both.stream().map(LogEntry::number).toList());
      String file = ProofFile.of(signer.key(), head, both.stream().map(e -> proofs.prove(e, head)).toList());
      assertEquals(
          new ProofFile.Proven(2, List.of(head), signer.key()), check(file, Optional.empty(), Optional.empty()));
      String sentence = "record 3 (sign-off " + third.id() + ") has been altered";
      assertTrue(refusal(file.replaceFirst("7F3K2Q", "7F3K2R")).startsWith(sentence));
      assertTrue(refusal(file.replaceFirst("\"redacted\":10", "\"redacted\":3")).startsWith(sentence));
      assertTrue(refusal(file.replaceFirst("\"redacted\":10,", "")).startsWith("line 3: " + sentence));
      assertTrue(refusal(file.replaceFirst("\"number\":3}", "\"number\":4}")).startsWith("line 4: record 10"));
      assertTrue(refusal(ProofFile.of(signer.key(), head, List.of(proofs.prove(one.get(0), head)))).startsWith(sentence));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aKeptHeadIsProvedToBeTheBeginningOfALaterOne(Database database) throws IOException {
    try (database) {
      fill(database, 7);
      SignedHead first = proofs.head();
      assertEquals(first, proofs.head(), "the same head is not signed twice");
      more(database, 6);
      SignedHead second = proofs.head();
      String file = ProofFile.of(signer.key(), first, second, proofs.prove(first, second));
      assertEquals(
          new ProofFile.Proven(0, List.of(first, second), signer.key()),
          check(file, Optional.of(first.head()), Optional.empty()));
      SignedHead rewritten = signer.sign(new TreeHead(7, "0".repeat(64)), first.at());
      assertTrue(refusal(ProofFile.of(signer.key(), rewritten, second, proofs.prove(first, second)))
          .contains("is not proved to begin with"));
      assertEquals(new LogCheck.Sound(second.head()), ledger.check(HeadStore.witnesses(database), List.of(), d -> {}));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void proofsAreMadeFromLeavesWhereNoSubtreesAreKept(Database database) throws IOException {
    try (database) {
      fill(database, 21);
      SignedHead head = proofs.head();
      List<InclusionProof> before = entries().stream().map(e -> proofs.prove(e, head).proof()).toList();
      database.dsl().execute("update record_log set subtree_hash = null");
      assertEquals(before, entries().stream().map(e -> proofs.prove(e, head).proof()).toList());
    }
  }
}

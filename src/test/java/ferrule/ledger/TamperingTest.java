package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.store.jooq.Tables;
import ferrule.store.jooq.tables.RecordLog;
import ferrule.store.jooq.tables.RecordLogHead;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.TableField;
import org.jooq.impl.DSL;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Edits a real database behind Ferrule's back, and undoes each edit before the next. */
class TamperingTest {

  private static final int RECORDS = 24;
  private static final int EDITS = 300;
  private static final Instant START = Instant.parse("2026-09-01T18:00:00Z");

  private static final RecordLog LOG = Tables.RECORD_LOG;
  private static final RecordLogHead HEAD = Tables.RECORD_LOG_HEAD;

  private static Database database;
  private static LedgerStore records;
  private static TreeHead head;

  @BeforeAll
  static void fill() {
    database = RealDatabases.h2();
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    Person apprentice = add(people, "apprentice", Role.APPRENTICE);
    add(people, "second", Role.APPRENTICE);
    Person instructor = add(people, "instructor", Role.INSTRUCTOR);
    records = new LedgerStore(database);
    for (int i = 0; i < RECORDS; i++) {
      String tag = "T-" + i;
      database.inTransaction(dsl -> records.append(
          dsl, START, at -> Samples.work(UUID.randomUUID(), apprentice.id(), instructor.id(), tag, at)));
    }
    head = records.head();
  }

  private static Person add(PeopleStore people, String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.empty(), Optional.empty());
    return person;
  }

  @AfterAll
  static void close() {
    database.close();
  }

  private interface Edit {
    /** Edits and returns the number of the first record that is then not as it was. */
    long on(DSLContext dsl, Random random);
  }

  private static final class Undo extends RuntimeException {
    private static final long serialVersionUID = 1L;
  }

  /** What the check says after an edit, which is undone. */
  private static LogCheck.Result after(Edit edit, Random random, long[] expected) {
    List<LogEntry> rows = new ArrayList<>();
    Optional<TreeHead>[] stored = stored();
    try {
      database.transact(dsl -> {
        expected[0] = edit.on(dsl, random);
        rows.addAll(rows(dsl));
        stored[0] = dsl.selectFrom(HEAD).fetchOptional(r -> new TreeHead(r.getSize(), r.getRootHash()));
        throw new Undo();
      });
    } catch (Undo undone) {
      // as meant
    }
    LogCheck check = new LogCheck(Witnesses.NONE);
    rows.forEach(check::accept);
    return check.finish(stored[0]);
  }

  @SuppressWarnings("unchecked")
  private static Optional<TreeHead>[] stored() {
    return new Optional[1];
  }

  private static List<LogEntry> rows(DSLContext dsl) {
    return dsl.selectFrom(LOG).orderBy(LOG.NUMBER).fetch(r -> new LogEntry(
        r.getNumber(),
        new Statement(
            r.getKind(), r.getId(), Optional.ofNullable(r.getSubjectId()), Optional.ofNullable(r.getSupersedes()),
            Optional.ofNullable(r.getDraftId()), r.getRecordedAt(), r.getBody()),
        r.getLeafHash(), r.getRootHash(), Optional.ofNullable(r.getSubtreeHash())));
  }

  private static long any(Random random) {
    return 1 + random.nextInt(RECORDS);
  }

  private static String body(DSLContext dsl, long number) {
    return dsl.select(LOG.BODY).from(LOG).where(LOG.NUMBER.eq(number)).fetchSingle(LOG.BODY);
  }

  private static <V> void set(DSLContext dsl, long number, TableField<? extends Record, V> column, V value) {
    assertEquals(1, dsl.update(LOG).set(column, value).where(LOG.NUMBER.eq(number)).execute());
  }

  /** One character of a record's text becomes another. */
  private static long alterText(DSLContext dsl, Random random) {
    long number = any(random);
    StringBuilder text = new StringBuilder(body(dsl, number));
    int at = random.nextInt(text.length());
    text.setCharAt(at, (char) (text.charAt(at) == 'x' ? 'y' : 'x'));
    set(dsl, number, LOG.BODY, text.toString());
    return number;
  }

  /** A record becomes another's, and its own hash is made to fit. */
  private static long alterTextAndHash(DSLContext dsl, Random random) {
    long number = any(random);
    String altered = body(dsl, number).replace("Invented Apprentice", "Invented Apprentice II");
    set(dsl, number, LOG.BODY, altered);
    set(dsl, number, LOG.LEAF_HASH, leafHash(altered));
    return number;
  }

  private static String leafHash(String body) {
    return java.util.HexFormat.of().formatHex(
        MerkleTree.leafHash(body.getBytes(java.nio.charset.StandardCharsets.UTF_8)));
  }

  private static long alterColumn(DSLContext dsl, Random random) {
    long number = any(random);
    switch (random.nextInt(5)) {
      case 0 -> set(dsl, number, LOG.KIND, "correction");
      case 1 -> set(dsl, number, LOG.RECORDED_AT, START.minusSeconds(5));
      case 2 -> set(dsl, number, LOG.SUBJECT_ID, dsl.select(Tables.PERSON.ID).from(Tables.PERSON)
          .where(Tables.PERSON.SIGN_IN_NAME.eq("second")).fetchSingle(Tables.PERSON.ID));
      case 3 -> set(dsl, number, LOG.DRAFT_ID, UUID.randomUUID());
      default -> set(dsl, number, LOG.ROOT_HASH, "0".repeat(64));
    }
    return number;
  }

  private static long remove(DSLContext dsl, Random random) {
    long number = any(random);
    assertEquals(1, dsl.deleteFrom(LOG).where(LOG.NUMBER.eq(number)).execute());
    return number;
  }

  /** Removed, and those after it moved up so that no number is missing. */
  private static long removeAndCloseUp(DSLContext dsl, Random random) {
    long number = remove(dsl, random);
    for (long n = number + 1; n <= RECORDS; n++) {
      set(dsl, n, LOG.NUMBER, n - 1);
    }
    return number;
  }

  /** A sound record of its own, put in between, with those after it moved down. */
  private static long insert(DSLContext dsl, Random random) {
    long number = any(random);
    for (long n = RECORDS; n >= number; n--) {
      set(dsl, n, LOG.NUMBER, n + 1);
    }
    Record other = dsl.selectFrom(LOG).where(LOG.NUMBER.eq(number + 1)).fetchSingle();
    Statement made = Samples.said(
        other.get(LOG.SUBJECT_ID), UUID.randomUUID(), "T-77", other.get(LOG.RECORDED_AT));
    LogEntry entry = Samples.log(List.of(made)).get(0);
    dsl.insertInto(LOG)
        .set(LOG.NUMBER, number)
        .set(LOG.ID, entry.id())
        .set(LOG.KIND, entry.kind())
        .set(LOG.SUBJECT_ID, entry.subject().orElseThrow())
        .set(LOG.DRAFT_ID, made.draft().orElseThrow())
        .set(LOG.RECORDED_AT, entry.at())
        .set(LOG.BODY, entry.body())
        .set(LOG.LEAF_HASH, entry.leafHash())
        .set(LOG.ROOT_HASH, other.get(LOG.ROOT_HASH))
        .execute();
    return number;
  }

  private static long exchange(DSLContext dsl, Random random) {
    long a = any(random);
    long b = 1 + (a + random.nextInt(RECORDS - 1)) % RECORDS;
    set(dsl, a, LOG.NUMBER, 1_000L);
    set(dsl, b, LOG.NUMBER, a);
    set(dsl, 1_000L, LOG.NUMBER, b);
    return Math.min(a, b);
  }

  @Test
  void everyEditIsFoundAndTheFirstRecordTouchedIsNamed() {
    List<Edit> edits = List.of(
        TamperingTest::alterText, TamperingTest::alterTextAndHash, TamperingTest::alterColumn, TamperingTest::remove,
        TamperingTest::removeAndCloseUp, TamperingTest::insert, TamperingTest::exchange);
    Random random = new Random(20261125);
    for (int i = 0; i < EDITS; i++) {
      int kind = i % edits.size();
      long[] expected = new long[1];
      LogCheck.Result result = after(edits.get(kind), random, expected);
      LogCheck.Touched touched = assertInstanceOf(LogCheck.Touched.class, result, "edit " + i + " of sort " + kind);
      assertEquals(expected[0], touched.number(), "edit " + i + " of sort " + kind + ": " + touched.sentence());
    }
  }

  @Test
  void anUntouchedLogRaisesNoAlarm() {
    assertEquals(new LogCheck.Sound(head), records.check(Optional.empty()));
    assertEquals(new LogCheck.Sound(head), records.check(Optional.of(head)));
  }

  @Test
  void whatIsCutOffAtTheEndIsMissedByTheLogsOwnHead() {
    LogCheck.Touched touched = assertInstanceOf(LogCheck.Touched.class, after(
        (dsl, random) -> {
          dsl.deleteFrom(LOG).where(LOG.NUMBER.gt(20L)).execute();
          return 21;
        },
        new Random(1), new long[1]));
    assertEquals(21, touched.number());
  }

  @Test
  void onlyANotedHeadShowsThatEverythingWasRewritten() {
    List<LogEntry> before = new ArrayList<>();
    records.read(before::add);
    // somebody alters record 5 and recomputes every hash after it, and the head
    List<Statement> rewritten = new ArrayList<>();
    for (LogEntry entry : before) {
      boolean fifth = entry.number() == 5;
      rewritten.add(fifth
          ? Samples.said(entry.subject().orElseThrow(), UUID.randomUUID(), "T-99", entry.at()) : entry.said());
    }
    List<LogEntry> after = Samples.log(rewritten);
    TreeHead newHead = after.get(after.size() - 1).head();
    assertInstanceOf(LogCheck.Sound.class, checked(after, Optional.empty(), newHead));
    assertInstanceOf(LogCheck.Sound.class, checked(after, Optional.of(before.get(3).head()), newHead));
    LogCheck.Touched touched =
        assertInstanceOf(LogCheck.Touched.class, checked(after, Optional.of(before.get(9).head()), newHead));
    assertEquals(10, touched.number());
  }

  private static LogCheck.Result checked(List<LogEntry> entries, Optional<TreeHead> noted, TreeHead stored) {
    LogCheck check = new LogCheck(Witnesses.noted(noted));
    entries.forEach(check::accept);
    return check.finish(Optional.of(stored));
  }

  @Test
  void aHeadThatIsGoneOrAlteredIsTold() {
    LogCheck.Touched gone = assertInstanceOf(LogCheck.Touched.class, after(
        (dsl, random) -> {
          dsl.execute("delete from record_log_head");
          return RECORDS;
        },
        new Random(1), new long[1]));
    assertEquals("the log's own head is gone or cannot be read", gone.sentence());
    LogCheck.Touched altered = assertInstanceOf(LogCheck.Touched.class, after(
        (dsl, random) -> {
          dsl.update(HEAD).set(HEAD.ROOT_HASH, DSL.val("a".repeat(64))).execute();
          return RECORDS;
        },
        new Random(1), new long[1]));
    assertEquals(RECORDS, altered.number());
  }
}

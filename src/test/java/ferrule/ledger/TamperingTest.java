package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.store.jooq.Tables;
import ferrule.store.jooq.tables.RecordLog;
import ferrule.store.jooq.tables.RecordLogHead;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.stream.Collectors;
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
  private static final int EDITS = 520;
  private static final Instant START = Instant.parse("2026-09-01T18:00:00Z");

  private static final RecordLog LOG = Tables.RECORD_LOG;
  private static final RecordLogHead HEAD = Tables.RECORD_LOG_HEAD;

  private static Database database;
  private static LedgerStore records;
  private static TreeHead head;
  // entries that an erasure redacted, as they were signed, and the erasure's number
  private static List<LogEntry> signed;
  private static long erasure;

  @BeforeAll
  static void fill() {
    database = RealDatabases.h2();
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    Person apprentice = add(people, "apprentice", Role.APPRENTICE);
    add(people, "second", Role.APPRENTICE);
    Person instructor = add(people, "instructor", Role.INSTRUCTOR);
    records = new LedgerStore(database);
    for (int i = 0; i < RECORDS - 4; i++) {
      work(apprentice, instructor, "T-" + i);
    }
    signed = rows(database.dsl()).stream().filter(e -> e.number() % 5 == 2).toList();
    erasure = database.inTransaction(dsl -> records.redact(
        dsl, START, redacted(signed), at -> erased(apprentice, instructor, at))).number();
    for (int i = 0; i < 3; i++) {
      work(apprentice, instructor, "U-" + i);
    }
    head = records.head();
    assertEquals(RECORDS, head.size());
  }

  private static void work(Person apprentice, Person instructor, String tag) {
    database.inTransaction(dsl -> records.append(
        dsl, START, at -> Samples.work(UUID.randomUUID(), apprentice.id(), instructor.id(), tag, at)));
  }

  private static ObjectNode erased(Person who, Person by, Instant at) {
    ObjectNode said = Statement.begin(Erasure.KIND, UUID.randomUUID(), by.id(), "Invented Instructor", at);
    said.putObject("apprentice").put("id", who.id().toString()).put("name", "Erased person 7F3K2Q");
    said.put("draft", UUID.randomUUID().toString()); // so that each column of its row can be altered
    return said;
  }

  private static Map<LogEntry, Statement> redacted(List<LogEntry> entries) {
    return entries.stream().collect(Collectors.toMap(e -> e, e -> Statement.read(redacted(e.body()))));
  }

  private static String redacted(String body) {
    return body.replace("Invented Apprentice", "Erased person 7F3K2Q");
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
        r.getLeafHash(), r.getRootHash(), Optional.ofNullable(r.getSubtreeHash()),
        Optional.ofNullable(r.getRedactedBy())));
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
    String altered = body(dsl, number).replace("Invented ", "Invented Other ");
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

  private static long anyRedacted(Random random) {
    return signed.get(random.nextInt(signed.size())).number();
  }

  /** One that no erasure vouches for. */
  private static long anyOther(Random random) {
    long number = any(random);
    return number == erasure || signed.stream().anyMatch(e -> e.number() == number) ? anyOther(random) : number;
  }

  /** A text that an erasure put in place becomes another one. */
  private static long alterRedacted(DSLContext dsl, Random random) {
    long number = anyRedacted(random);
    set(dsl, number, LOG.BODY, body(dsl, number).replace("7F3K2Q", "7F3K2R"));
    return number;
  }

  /** A record is redacted as if the erasure, or another record, had done so. */
  private static long redactMore(DSLContext dsl, Random random) {
    long number = anyOther(random);
    set(dsl, number, LOG.BODY, redacted(body(dsl, number)));
    set(dsl, number, LOG.REDACTED_BY, random.nextInt(3) > 0 ? erasure : number + random.nextInt(RECORDS));
    return number;
  }

  /** The text that was erased is put back. */
  private static long putBack(DSLContext dsl, Random random) {
    LogEntry entry = signed.get(random.nextInt(signed.size()));
    set(dsl, entry.number(), LOG.BODY, entry.body());
    set(dsl, entry.number(), LOG.REDACTED_BY, random.nextBoolean() ? erasure : null);
    return entry.number();
  }

  /** A redacted record is marked as redacted by another record, or by none, or its hash becomes that of its text. */
  private static long alterMark(DSLContext dsl, Random random) {
    long number = anyRedacted(random);
    switch (random.nextInt(4)) {
      case 0 -> set(dsl, number, LOG.REDACTED_BY, null);
      case 1 -> set(dsl, number, LOG.REDACTED_BY, erasure + 1);
      case 2 -> set(dsl, number, LOG.REDACTED_BY, 1_000L);
      default -> set(dsl, number, LOG.LEAF_HASH, random.nextBoolean() ? leafHash(body(dsl, number)) : "nothing");
    }
    return number;
  }

  /** A record that nobody redacted is marked as redacted. */
  private static long markAnother(DSLContext dsl, Random random) {
    long number = anyOther(random);
    set(dsl, number, LOG.REDACTED_BY, erasure);
    return number;
  }

  /** The erasure vouches for a text that somebody else put there. */
  private static long alterErasure(DSLContext dsl, Random random) {
    long number = anyRedacted(random);
    String before = body(dsl, number);
    set(dsl, number, LOG.BODY, before.replace("7F3K2Q", "7F3K2R"));
    set(dsl, erasure, LOG.BODY,
        body(dsl, erasure).replace(leafHash(before), leafHash(body(dsl, number))));
    return erasure;
  }

  @Test
  void aRedactedTextIsProvenInAFileAndFoundIfAltered() throws IOException {
    StringBuilder file = new StringBuilder();
    records.read(entry -> {
      try {
        LogFile.write(entry, file);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    });
    LogFile.write(head, file);
    assertEquals(new LogCheck.Sound(head, signed.size()), fileCheck(file.toString()));
    String mark = ",\"redacted\":" + erasure;
    assertEquals(signed.get(0).number(), touchedIn(file.toString().replaceFirst("7F3K2Q", "7F3K2R")));
    assertEquals(signed.get(0).number(), touchedIn(file.toString().replaceFirst(mark, "")));
    assertEquals(signed.get(0).number(), touchedIn(file.toString().replaceFirst(mark, ",\"redacted\":" + (erasure + 1))));
    assertEquals(erasure, touchedIn(file.toString().replaceFirst("\"number\":2}", "\"number\":3}")));
  }

  private static long touchedIn(String file) throws IOException {
    LogCheck.Touched touched = assertInstanceOf(LogCheck.Touched.class, fileCheck(file));
    assertTrue(touched.sentence().startsWith("record " + touched.number() + " "), touched.sentence());
    return touched.number();
  }

  private static LogCheck.Result fileCheck(String file) throws IOException {
    return LogFile.check(new BufferedReader(new StringReader(file)), Optional.of(head));
  }

  @Test
  void onlyTheTextOfAStatementMayBeRedactedAndOfAnErasureNothing() {
    List<LogEntry> all = rows(database.dsl());
    LogEntry first = all.get(0);
    Statement another = all.get(2).said();
    LogEntry last = all.get((int) erasure - 1);
    for (Map<LogEntry, Statement> wrong : List.of(Map.of(first, another), Map.of(last, last.said()))) {
      assertThrows(IllegalArgumentException.class, () -> database.inTransaction(
          dsl -> records.redact(dsl, START, wrong, at -> Samples.work(
              UUID.randomUUID(), UUID.randomUUID(), UUID.randomUUID(), "T-1", at))));
    }
    assertEquals(head, records.head());
  }

  @Test
  void everyEditIsFoundAndTheFirstRecordTouchedIsNamed() {
    List<Edit> edits = List.of(
        TamperingTest::alterText, TamperingTest::alterTextAndHash, TamperingTest::alterColumn, TamperingTest::remove,
        TamperingTest::removeAndCloseUp, TamperingTest::insert, TamperingTest::exchange,
        TamperingTest::alterRedacted, TamperingTest::redactMore, TamperingTest::putBack, TamperingTest::alterMark,
        TamperingTest::markAnother, TamperingTest::alterErasure);
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
    assertEquals(new LogCheck.Sound(head, signed.size()), records.check(Optional.empty()));
    assertEquals(new LogCheck.Sound(head, signed.size()), records.check(Optional.of(head)));
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
    // and has the texts from before the erasure, which goes
    signed.forEach(entry -> before.set((int) entry.number() - 1, entry));
    before.remove((int) erasure - 1);
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

package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.fail;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.drill.RuledAnswer;
import ferrule.drill.RulingStore;
import ferrule.drill.SignedRulings;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Statement;
import ferrule.ledger.Vouched;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.store.jooq.Tables;
import ferrule.store.jooq.tables.RecordLog;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.Table;
import org.jooq.TableField;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Random histories of sign-offs with photos, corrections, withdrawals, rulings and rulings undone in a real database, and
 * random edits made to it behind Ferrule's back.
 */
class TamperingIT {

  private static final Instant START = Instant.parse("2026-09-01T18:00:00Z");
  private static final Clock CLOCK = Clock.fixed(START, ZoneOffset.UTC);
  private static final RecordLog LOG = Tables.RECORD_LOG;

  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person second = person("second", Role.APPRENTICE);
  private final Person instructor = person("instructor", Role.INSTRUCTOR);
  private final Random random = new Random(20261125);
  private Database database;
  private Kept kept;

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  static List<Arguments> databases() {
    Function<Integer, Database> h2 = i -> RealDatabases.h2();
    Function<Integer, Database> postgres = i -> RealDatabases.postgres();
    return List.of(Arguments.of("H2", h2, 1_000), Arguments.of("PostgreSQL", postgres, 100));
  }

  private void open(Database fresh) {
    database = fresh;
    PeopleStore people = new PeopleStore(database, CLOCK);
    List.of(apprentice, second, instructor).forEach(p -> people.add(p, Optional.empty(), Optional.empty()));
    kept = new Kept(database);
  }

  // --- histories ---

  private static final int PICTURES = 4;

  /** Pictures need not be pictures here: what counts is their bytes. */
  private static CleanPhoto photo(int number) {
    byte[] bytes = ("picture " + number).getBytes(StandardCharsets.UTF_8);
    return new CleanPhoto(new GradePhoto(CleanPhoto.sha256(bytes), 1, 1), bytes);
  }

  private void history(int length) {
    RecordStore records = new RecordStore(database, CLOCK);
    BenchStore bench = new BenchStore(database, CLOCK);
    PhotoStore photos = new PhotoStore(database, CLOCK);
    List<LoggedRecord> open = new ArrayList<>();
    List<RuledAnswer> rulings = new ArrayList<>();
    for (int i = 0; i < length; i++) {
      int what = random.nextInt(10);
      if (what < 2 && !open.isEmpty()) {
        LoggedRecord target = open.remove(random.nextInt(open.size()));
        open.addAll(signed(what == 0
            ? records.withdraw(target, "Wrong instrument.", instructor, "e1")
            : sign(records, bench, photos, Optional.of(target.id()), i)));
        open.removeIf(r -> r.record().grade().isEmpty());
      } else if (what == 2) {
        rulings.add(SignedRulings.rule(database, instructor.id(), "word" + (char) ('a' + i % 26) + "q", START));
      } else if (what == 4 && i > 4) {
        redactSome();
      } else if (what == 3 && !rulings.isEmpty()) {
        SignedRulings.undo(database, rulings.remove(0), instructor.id(), START);
      } else {
        open.addAll(signed(sign(records, bench, photos, Optional.empty(), i)));
      }
    }
  }

  /** An erasure takes the name of the apprentice out of some records, also out of redacted ones. */
  private void redactSome() {
    LedgerStore ledger = new LedgerStore(database);
    database.transact(dsl -> {
      ledger.takeTurn(dsl);
      Map<LogEntry, Statement> texts = new HashMap<>();
      for (LogEntry entry : ledger.about(apprentice.id())) {
        if (!entry.kind().equals("erasure") && random.nextInt(3) == 0) {
          texts.put(entry, Statement.read(entry.body().replaceFirst(
              "(?<=\"name\":\")(Invented apprentice|Erased person \\d+)", "Erased person " + random.nextInt(1_000_000))));
        }
      }
      ledger.redact(dsl, START, texts, at -> {
        ObjectNode said = Statement.begin("erasure", UUID.randomUUID(), instructor.id(), instructor.fullName(), at);
        said.putObject("apprentice").put("id", apprentice.id().toString()).put("name", "Erased person");
        return said;
      });
    });
  }

  private static List<LoggedRecord> signed(Signing signing) {
    return List.of(assertInstanceOf(Signing.Signed.class, signing).entry());
  }

  private Signing sign(RecordStore records, BenchStore bench, PhotoStore photos, Optional<UUID> corrects, int i) {
    Entries sound = Samples.soundWaterKey();
    Entries entries = new Entries(
        true, sound.levels(), sound.readings(), sound.lowers(), sound.uppers(), "Piece " + i,
        corrects.isPresent() ? "Read the wrong scale." : "");
    Draft draft =
        bench.open(instructor.id(), apprentice.id(), Samples.WATER_KEY, "T-" + i, entries, corrects);
    for (int p = random.nextInt(3); p > 0; p--) {
      photos.add(draft.id(), photo(random.nextInt(PICTURES)));
    }
    Grade grade = Grade.of(
        apprentice.id(), apprentice.fullName(), Samples.waterKey(), draft.tag(), entries, photos.of(draft.id()));
    return records.signAnotherPiece(draft, grade, instructor, "e1");
  }

  private LogCheck.Result check() {
    List<Vouched> vouched = List.of(new RulingStore(database), new PhotoStore(database, CLOCK));
    return new LedgerStore(database).check(HeadStore.witnesses(database), vouched, done -> {});
  }

  @ParameterizedTest(name = "{2} histories on {0}")
  @MethodSource("databases")
  void noUntouchedHistoryRaisesAnAlarm(String name, Function<Integer, Database> fresh, int times) {
    try (Database closing = fresh.apply(0)) {
      open(closing);
      HeadStore heads = new HeadStore(database, HeadSigner.passing(), CLOCK);
      for (int i = 0; i < times; i++) {
        kept.restore();
        history(random.nextInt(8));
        if (random.nextBoolean()) {
          heads.current();
          history(random.nextInt(4));
        }
        LogCheck.Result result = check();
        assertInstanceOf(LogCheck.Sound.class, result, "history " + i + ": " + result);
      }
    }
  }

  // --- edits ---

  private interface Edit {
    /** Edits and returns the number of the first record that is then not as it was; 0 if there is nothing to edit. */
    long on(DSLContext dsl);
  }

  @ParameterizedTest(name = "{2} edits on {0}")
  @MethodSource("databases")
  void everyEditIsFoundAndTheFirstRecordTouchedIsNamed(String name, Function<Integer, Database> fresh, int times) {
    Map<String, Edit> edits = new TreeMap<>();
    edits.put("one character of a text", this::alterText);
    edits.put("a text and its own hash", this::alterTextAndHash);
    edits.put("a column", this::alterColumn);
    edits.put("removed", this::remove);
    edits.put("removed, numbers closed up", this::removeAndCloseUp);
    edits.put("cut off at the end, own head made to fit", this::cutOff);
    edits.put("inserted", this::insert);
    edits.put("two exchanged", this::exchange);
    edits.put("a redacted text", this::alterRedacted);
    edits.put("redacted, and no erasure vouches for it", this::redactMore);
    edits.put("the mark of a redacted record", this::alterMark);
    edits.put("a photo's bytes", this::alterPhoto);
    edits.put("two photos swapped", this::swapPhotos);
    edits.put("a photo removed", this::removePhoto);
    edits.put("a ruling's row", this::alterRuling);
    edits.put("a ruling's row inserted", this::insertRuling);
    edits.put("an undoing removed", TamperingIT::removeUndoing);
    List<String> names = new ArrayList<>(edits.keySet());
    Map<String, Integer> made = new TreeMap<>();
    try (Database closing = fresh.apply(0)) {
      open(closing);
      Kept empty = kept;
      int done = 0;
      for (int turn = 0; done < times; turn++) {
        if (turn % 70 == 0) {
          empty.restore();
          history(24);
          new HeadStore(database, HeadSigner.passing(), CLOCK).current();
          kept = new Kept(database);
        }
        String kind = names.get(turn % names.size());
        long expected = database.inTransaction(dsl -> edits.get(kind).on(dsl));
        if (expected > 0) {
          done++;
          made.merge(kind, 1, Integer::sum);
          requireFound(kind, expected);
          kept.restore();
        }
      }
    }
    System.out.println("Tampering on " + name + ": " + times + " edits, all found: " + made);
  }

  private void requireFound(String kind, long expected) {
    LogCheck.Result result = check();
    if (!(result instanceof LogCheck.Touched touched)) {
      fail(kind + " at record " + expected + " was not found");
      return;
    }
    assertEquals(expected, touched.number(), kind + ": " + touched.sentence());
  }

  private static long size(DSLContext dsl) {
    return dsl.fetchCount(LOG);
  }

  private long any(DSLContext dsl) {
    return 1 + random.nextInt((int) size(dsl));
  }

  private static String body(DSLContext dsl, long number) {
    return dsl.select(LOG.BODY).from(LOG).where(LOG.NUMBER.eq(number)).fetchSingle(LOG.BODY);
  }

  private static <V> void set(DSLContext dsl, long number, TableField<? extends Record, V> column, V value) {
    assertEquals(1, dsl.update(LOG).set(column, value).where(LOG.NUMBER.eq(number)).execute());
  }

  private static String sha256(String prefix, String text) {
    try {
      MessageDigest sha256 = MessageDigest.getInstance("SHA-256");
      sha256.update(prefix.getBytes(StandardCharsets.ISO_8859_1));
      return HexFormat.of().formatHex(sha256.digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  private long alterText(DSLContext dsl) {
    long number = any(dsl);
    StringBuilder text = new StringBuilder(body(dsl, number));
    int at = random.nextInt(text.length());
    text.setCharAt(at, text.charAt(at) == 'x' ? 'y' : 'x');
    set(dsl, number, LOG.BODY, text.toString());
    return number;
  }

  private long alterTextAndHash(DSLContext dsl) {
    long number = any(dsl);
    String altered = body(dsl, number).replace("\"name\":\"Invented instructor\"", "\"name\":\"Invented other\"");
    set(dsl, number, LOG.BODY, altered);
    set(dsl, number, LOG.LEAF_HASH, sha256("\0", altered));
    return number;
  }

  private long alterColumn(DSLContext dsl) {
    long number = any(dsl);
    switch (random.nextInt(8)) {
      case 0 -> set(dsl, number, LOG.KIND, "second-signature");
      case 1 -> set(dsl, number, LOG.RECORDED_AT, START.minusSeconds(5));
      case 2 -> set(dsl, number, LOG.SUBJECT_ID, second.id());
      case 3 -> set(dsl, number, LOG.DRAFT_ID, UUID.randomUUID());
      case 4 -> set(dsl, number, LOG.SUPERSEDES, UUID.randomUUID());
      case 5 -> set(dsl, number, LOG.ID, UUID.randomUUID());
      case 6 -> set(dsl, number, LOG.SUBTREE_HASH, "0".repeat(64));
      default -> set(dsl, number, LOG.ROOT_HASH, "0".repeat(64));
    }
    return number;
  }

  private long anyWhere(DSLContext dsl, Condition which) {
    List<Long> numbers = dsl.select(LOG.NUMBER).from(LOG).where(which).fetch(LOG.NUMBER);
    return numbers.isEmpty() ? 0 : numbers.get(random.nextInt(numbers.size()));
  }

  private long alterRedacted(DSLContext dsl) {
    long number = anyWhere(dsl, LOG.REDACTED_BY.isNotNull());
    if (number > 0) {
      set(dsl, number, LOG.BODY, body(dsl, number).replace("Erased", "Erazed"));
    }
    return number;
  }

  /** As if one of the erasures had redacted this record too, or as if another record were one. */
  private long redactMore(DSLContext dsl) {
    long number = anyWhere(dsl, LOG.REDACTED_BY.isNull().and(LOG.BODY.contains("\"Invented apprentice\"")));
    if (number > 0) {
      long erasure = random.nextBoolean() ? anyWhere(dsl, LOG.KIND.eq("erasure")) : any(dsl);
      set(dsl, number, LOG.BODY, body(dsl, number).replace("\"Invented apprentice\"", "\"Erased person\""));
      set(dsl, number, LOG.REDACTED_BY, erasure);
    }
    return number;
  }

  private long alterMark(DSLContext dsl) {
    long number = anyWhere(dsl, LOG.REDACTED_BY.isNotNull());
    if (number > 0) {
      long by = dsl.select(LOG.REDACTED_BY).from(LOG).where(LOG.NUMBER.eq(number)).fetchSingle(LOG.REDACTED_BY);
      set(dsl, number, LOG.REDACTED_BY, random.nextBoolean() ? null : by + 1);
    }
    return number;
  }

  private long remove(DSLContext dsl) {
    long number = any(dsl);
    assertEquals(1, dsl.deleteFrom(LOG).where(LOG.NUMBER.eq(number)).execute());
    return number;
  }

  private long removeAndCloseUp(DSLContext dsl) {
    long size = size(dsl);
    long number = remove(dsl);
    for (long n = number + 1; n <= size; n++) {
      set(dsl, n, LOG.NUMBER, n - 1);
    }
    return number;
  }

  /** The signed head, which is of all of them, is what misses them. */
  private long cutOff(DSLContext dsl) {
    long first = 2 + random.nextInt((int) size(dsl) - 1);
    dsl.deleteFrom(LOG).where(LOG.NUMBER.ge(first)).execute();
    String root = dsl.select(LOG.ROOT_HASH).from(LOG).where(LOG.NUMBER.eq(first - 1)).fetchSingle(LOG.ROOT_HASH);
    dsl.update(Tables.RECORD_LOG_HEAD).set(Tables.RECORD_LOG_HEAD.SIZE, first - 1)
        .set(Tables.RECORD_LOG_HEAD.ROOT_HASH, root).execute();
    return first;
  }

  private long insert(DSLContext dsl) {
    long number = any(dsl);
    for (long n = size(dsl); n >= number; n--) {
      set(dsl, n, LOG.NUMBER, n + 1);
    }
    Record next = dsl.selectFrom(LOG).where(LOG.NUMBER.eq(number + 1)).fetchSingle();
    UUID id = UUID.randomUUID();
    ObjectNode json = Statement.begin("sign-off", id, instructor.id(), instructor.fullName(), START);
    json.putObject("apprentice").put("id", second.id().toString()).put("name", second.fullName());
    Statement said = Statement.of(json);
    dsl.insertInto(LOG)
        .set(LOG.NUMBER, number).set(LOG.ID, id).set(LOG.KIND, said.kind()).set(LOG.SUBJECT_ID, second.id())
        .set(LOG.RECORDED_AT, START).set(LOG.BODY, said.text()).set(LOG.LEAF_HASH, sha256("\0", said.text()))
        .set(LOG.ROOT_HASH, next.get(LOG.ROOT_HASH))
        .execute();
    return number;
  }

  private long exchange(DSLContext dsl) {
    int size = (int) size(dsl);
    long a = any(dsl);
    long b = 1 + (a + random.nextInt(size - 1)) % size;
    set(dsl, a, LOG.NUMBER, 1_000L);
    set(dsl, b, LOG.NUMBER, a);
    set(dsl, 1_000L, LOG.NUMBER, b);
    return Math.min(a, b);
  }

  /** The first record that names this picture; 0 if none does. */
  private static long firstNaming(DSLContext dsl, String sha256) {
    return dsl.select(LOG.NUMBER).from(LOG).where(LOG.BODY.contains(sha256)).orderBy(LOG.NUMBER).limit(1)
        .fetchOptional(LOG.NUMBER).orElse(0L);
  }

  private String anyPicture() {
    return photo(random.nextInt(PICTURES)).photo().sha256();
  }

  private long alterPhoto(DSLContext dsl) {
    String picture = anyPicture();
    // one of the rows that hold it, as if one record's picture were exchanged
    UUID row = dsl.select(Tables.PHOTO.ID).from(Tables.PHOTO).where(Tables.PHOTO.SHA256.eq(picture)).limit(1)
        .fetchOptional(Tables.PHOTO.ID).orElse(new UUID(0, 0));
    dsl.update(Tables.PHOTO).set(Tables.PHOTO.JPEG, new byte[] {1, 2, 3}).where(Tables.PHOTO.ID.eq(row)).execute();
    return firstNaming(dsl, picture);
  }

  private long swapPhotos(DSLContext dsl) {
    String a = photo(0).photo().sha256();
    String b = photo(1 + random.nextInt(PICTURES - 1)).photo().sha256();
    long first = firstNaming(dsl, a);
    long other = firstNaming(dsl, b);
    if (first == 0 || other == 0) {
      return 0;
    }
    byte[] bytes = dsl.select(Tables.PHOTO.JPEG).from(Tables.PHOTO).where(Tables.PHOTO.SHA256.eq(a)).limit(1)
        .fetchSingle(Tables.PHOTO.JPEG);
    byte[] others = dsl.select(Tables.PHOTO.JPEG).from(Tables.PHOTO).where(Tables.PHOTO.SHA256.eq(b)).limit(1)
        .fetchSingle(Tables.PHOTO.JPEG);
    dsl.update(Tables.PHOTO).set(Tables.PHOTO.JPEG, others).where(Tables.PHOTO.SHA256.eq(a)).execute();
    dsl.update(Tables.PHOTO).set(Tables.PHOTO.JPEG, bytes).where(Tables.PHOTO.SHA256.eq(b)).execute();
    return Math.min(first, other);
  }

  private long removePhoto(DSLContext dsl) {
    String picture = anyPicture();
    dsl.deleteFrom(Tables.PHOTO).where(Tables.PHOTO.SHA256.eq(picture)).execute();
    return firstNaming(dsl, picture);
  }

  private Optional<UUID> anyRuling(DSLContext dsl) {
    List<UUID> ids = dsl.select(Tables.DRILL_RULING.ID).from(Tables.DRILL_RULING).fetch(Tables.DRILL_RULING.ID);
    return ids.isEmpty() ? Optional.empty() : Optional.of(ids.get(random.nextInt(ids.size())));
  }

  private long alterRuling(DSLContext dsl) {
    UUID ruling = anyRuling(dsl).orElse(new UUID(0, 0));
    var update = dsl.update(Tables.DRILL_RULING);
    var set = switch (random.nextInt(5)) {
      case 0 -> update.set(Tables.DRILL_RULING.DECISION, "term");
      case 1 -> update.set(Tables.DRILL_RULING.PART, "bell");
      case 2 -> update.set(Tables.DRILL_RULING.TYPED, "another word");
      case 3 -> update.set(Tables.DRILL_RULING.RULED_BY, second.id());
      default -> update.set(Tables.DRILL_RULING.RULED_AT, START.minusSeconds(60));
    };
    set.where(Tables.DRILL_RULING.ID.eq(ruling)).execute();
    return dsl.select(LOG.NUMBER).from(LOG).where(LOG.ID.eq(ruling)).fetchOptional(LOG.NUMBER).orElse(0L);
  }

  private long insertRuling(DSLContext dsl) {
    dsl.insertInto(Tables.DRILL_RULING)
        .set(Tables.DRILL_RULING.ID, UUID.randomUUID()).set(Tables.DRILL_RULING.GLOSSARY, "trumpet")
        .set(Tables.DRILL_RULING.EDITION, "e1").set(Tables.DRILL_RULING.PART, "bell")
        .set(Tables.DRILL_RULING.TYPED, "horn").set(Tables.DRILL_RULING.PHRASE, "horn")
        .set(Tables.DRILL_RULING.DECISION, "term").set(Tables.DRILL_RULING.REASON, "")
        .set(Tables.DRILL_RULING.RULED_BY, instructor.id()).set(Tables.DRILL_RULING.RULED_AT, START)
        .execute();
    return size(dsl) + 1; // no record is of it
  }

  private static long removeUndoing(DSLContext dsl) {
    Optional<Record> undone = dsl.select(LOG.NUMBER, LOG.SUPERSEDES).from(LOG).where(LOG.KIND.eq("ruling-undone"))
        .orderBy(LOG.NUMBER).limit(1).fetchOptional().map(r -> r);
    undone.ifPresent(row -> dsl.deleteFrom(Tables.DRILL_RULING_UNDONE)
        .where(Tables.DRILL_RULING_UNDONE.RULING_ID.eq(row.get(LOG.SUPERSEDES))).execute());
    return undone.map(row -> row.get(LOG.NUMBER)).orElse(0L);
  }

  /** All rows of the tables that are edited, to go back to. */
  private static final class Kept {

    private static final List<Table<?>> IN_ORDER = List.of(
        Tables.GRADE_DRAFT, Tables.PHOTO, Tables.DRILL_RULING, Tables.DRILL_RULING_UNDONE, LOG, Tables.RECORD_LOG_HEAD,
        Tables.HEAD_KEY, Tables.SIGNED_HEAD);

    private final Database database;
    private final List<List<? extends Record>> rows = new ArrayList<>();

    Kept(Database database) {
      this.database = database;
      IN_ORDER.forEach(table -> rows.add(database.dsl().selectFrom(table).fetch()));
    }

    void restore() {
      database.transact(dsl -> {
        for (int i = IN_ORDER.size() - 1; i >= 0; i--) {
          dsl.deleteFrom(IN_ORDER.get(i)).execute();
        }
        for (int i = 0; i < IN_ORDER.size(); i++) {
          Table<?> table = IN_ORDER.get(i);
          List<? extends Record> all = rows.get(i);
          if (!all.isEmpty()) {
            dsl.batch(all.stream()
                .map(row -> dsl.insertInto(table).columns(table.fields()).values(row.intoArray())).toList()).execute();
          }
        }
      });
    }
  }
}

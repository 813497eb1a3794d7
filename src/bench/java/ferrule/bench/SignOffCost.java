package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.RECORD_LOG;

import ferrule.ledger.Statement;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.lang.management.ManagementFactory;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Record;

/**
 * What the chain adds to signing: committing a sign-off with the chain, as a ratio to committing the same rows (draft
 * locked, looked at and closed; record inserted) without it, on H2 in memory and PostgreSQL. Both take turns. Argument:
 * commits of each (1,000 if absent).
 */
final class SignOffCost {

  private static final String EDITION = "0123456789ab";

  private final Database database;
  private final BenchStore bench;
  private final RecordStore records;
  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person instructor = person("instructor", Role.INSTRUCTOR);
  private long plainNumber = 1_000_000_000;

  private SignOffCost(Database database) {
    this.database = database;
    Clock clock = Clock.systemUTC();
    this.bench = new BenchStore(database, clock);
    this.records = new RecordStore(database, clock);
    PeopleStore people = new PeopleStore(database, clock);
    people.add(apprentice, Optional.empty(), Optional.empty());
    people.add(instructor, Optional.empty(), Optional.empty());
  }

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  public static void main(String[] args) {
    int commits = args.length > 0 ? Integer.parseInt(args[0]) : 1_000;
    measure("H2 in memory", RealDatabases.h2(), commits);
    measure("PostgreSQL", RealDatabases.postgres(), commits);
    System.exit(0); // the test server's threads would stay
  }

  private static void measure(String name, Database fresh, int commits) {
    try (Database database = fresh) {
      SignOffCost cost = new SignOffCost(database);
      cost.run(commits / 2);
      long[][] nanos = cost.run(commits);
      for (long[] each : nanos) {
        Arrays.sort(each);
      }
      tell(name + ", by the clock, medians of " + commits, nanos[0][commits / 2], nanos[1][commits / 2]);
      tell(name + ", by the clock, fastest tenth", nanos[0][commits / 10], nanos[1][commits / 10]);
      tell(name + ", by our thread's processor, medians", nanos[2][commits / 2], nanos[3][commits / 2]);
    }
  }

  private static void tell(String what, long plain, long chained) {
    System.out.printf(
        "%s: without the chain %.0f us, with it %.0f us: %.2f times%n", what, plain / 1e3, chained / 1e3,
        (double) chained / plain);
  }

  private static long processor() {
    return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }

  private long[][] run(int commits) {
    long[][] nanos = new long[4][commits];
    for (int i = 0; i < commits; i++) {
      Draft plain = draft(i, "P-");
      Draft chained = draft(i, "C-");
      Grade plainGrade = grade(plain);
      Grade chainedGrade = grade(chained);
      long busyAtStart = processor();
      long start = System.nanoTime();
      database.transact(dsl -> plain(dsl, plain, plainGrade));
      long between = System.nanoTime();
      long busyBetween = processor();
      records.signAnotherPiece(chained, chainedGrade, instructor, EDITION);
      nanos[0][i] = between - start;
      nanos[1][i] = System.nanoTime() - between;
      nanos[2][i] = busyBetween - busyAtStart;
      nanos[3][i] = processor() - busyBetween;
    }
    return nanos;
  }

  private Draft draft(int number, String prefix) {
    return bench.open(
        instructor.id(), apprentice.id(), Samples.WATER_KEY, prefix + number, Samples.soundWaterKey(),
        Optional.empty());
  }

  private Grade grade(Draft draft) {
    return Grade.of(apprentice.id(), apprentice.fullName(), Samples.waterKey(), draft.tag(), draft.entries());
  }

  /** What signing does, without head, hashes and order. */
  private void plain(DSLContext dsl, Draft draft, Grade grade) {
    dsl.select(PERSON.ID).from(PERSON).where(PERSON.ID.eq(draft.apprentice())).forUpdate().fetch();
    Record stored = dsl.select(GRADE_DRAFT.fields()).from(GRADE_DRAFT).where(GRADE_DRAFT.ID.eq(draft.id())).forUpdate()
        .fetchSingle();
    if (!Entries.fromJson(stored.get(GRADE_DRAFT.ENTRIES)).equals(draft.entries())
        || !PhotoStore.of(dsl, draft.id()).equals(grade.photos())) {
      throw new IllegalStateException("the draft is another");
    }
    UUID id = UUID.randomUUID();
    dsl.update(GRADE_DRAFT).set(GRADE_DRAFT.SIGNED_RECORD, id).where(GRADE_DRAFT.ID.eq(draft.id())).execute();
    Instant at = Instant.now().truncatedTo(ChronoUnit.MILLIS);
    Statement said = Statement.of(RecordJson.write(new BenchRecord.SignOff(
        id, draft.id(), grade, new Signature(instructor.id(), instructor.fullName(), at), EDITION)));
    dsl.insertInto(RECORD_LOG)
        .set(RECORD_LOG.NUMBER, plainNumber++)
        .set(RECORD_LOG.ID, said.id())
        .set(RECORD_LOG.KIND, said.kind())
        .set(RECORD_LOG.SUBJECT_ID, said.subject().orElse(null))
        .set(RECORD_LOG.SUPERSEDES, said.supersedes().orElse(null))
        .set(RECORD_LOG.DRAFT_ID, said.draft().orElse(null))
        .set(RECORD_LOG.RECORDED_AT, said.at())
        .set(RECORD_LOG.BODY, said.text())
        .set(RECORD_LOG.LEAF_HASH, "")
        .set(RECORD_LOG.ROOT_HASH, "")
        .execute();
    RecordJson.read(said.text()); // as signing gives its record back
  }
}

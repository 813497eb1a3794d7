package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.LOAN_INSTRUMENT;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Record;

/** The instruments on the bench, and the drafts of grades, in the database. */
public final class BenchStore {

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public BenchStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * Adds an instrument to the bench.
   *
   * @return false, with nothing changed, if another one has its tag
   */
  public boolean addIfNew(LoanInstrument instrument) {
    return database
            .dsl()
            .insertInto(LOAN_INSTRUMENT)
            .set(LOAN_INSTRUMENT.ID, instrument.id())
            .set(LOAN_INSTRUMENT.TAG, instrument.tag())
            .set(LOAN_INSTRUMENT.INSTRUMENT, instrument.instrument())
            .set(LOAN_INSTRUMENT.DESCRIPTION, instrument.description())
            .set(LOAN_INSTRUMENT.RETIRED_ON, instrument.retiredOn().orElse(null))
            .onConflictDoNothing()
            .execute()
        == 1;
  }

  /**
   * Takes an instrument off the bench from today on; its tag stays its own.
   *
   * @param zone in which today is
   * @return false, with nothing changed, if it is not on the bench
   */
  public boolean retire(UUID instrument, ZoneId zone) {
    return database
            .dsl()
            .update(LOAN_INSTRUMENT)
            .set(LOAN_INSTRUMENT.RETIRED_ON, LocalDate.ofInstant(clock.instant(), zone))
            .where(LOAN_INSTRUMENT.ID.eq(instrument))
            .and(LOAN_INSTRUMENT.RETIRED_ON.isNull())
            .execute()
        == 1;
  }

  /** The instruments that are on the bench now, by tag. */
  public List<LoanInstrument> instruments() {
    return database
        .dsl()
        .selectFrom(LOAN_INSTRUMENT)
        .where(LOAN_INSTRUMENT.RETIRED_ON.isNull())
        .orderBy(LOAN_INSTRUMENT.TAG)
        .fetch(row -> new LoanInstrument(
            row.getId(), row.getTag(), row.getInstrument(), row.getDescription(),
            Optional.ofNullable(row.getRetiredOn())));
  }

  /** Opens a draft by itself, for a first grade or a correction, and returns it. */
  public Draft open(
      UUID instructor, UUID apprentice, TaskId task, String tag, Entries entries, Optional<UUID> corrects) {
    Instant now = clock.instant();
    return open(
        new Draft(
            UUID.randomUUID(), instructor, apprentice, task, tag, entries, corrects, Optional.empty(),
            Optional.empty(), now, now, Optional.empty()));
  }

  /** Opens a draft of a group that is graded side by side, and returns it. */
  public Draft openInGroup(UUID group, UUID instructor, UUID apprentice, TaskId task, String tag, Entries entries) {
    Instant now = clock.instant();
    return open(
        new Draft(
            UUID.randomUUID(), instructor, apprentice, task, tag, entries, Optional.empty(), Optional.of(group),
            Optional.empty(), now, now, Optional.empty()));
  }

  /** Opens a draft that grades the work of a sign-off once more, and returns it. */
  public Draft openBlind(UUID work, UUID instructor, UUID apprentice, TaskId task, String tag, Entries entries) {
    Instant now = clock.instant();
    return open(
        new Draft(
            UUID.randomUUID(), instructor, apprentice, task, tag, entries, Optional.empty(), Optional.empty(),
            Optional.of(work), now, now, Optional.empty()));
  }

  /**
   * Opens a draft that was begun on a device, under the id that it has there; does nothing if there is one.
   *
   * @param knownAt when the device last heard what had been signed
   */
  void openFromDevice(
      UUID id, UUID instructor, UUID apprentice, TaskId task, String tag, Entries entries, Optional<UUID> corrects,
      Instant knownAt) {
    if (!database.dsl().fetchExists(GRADE_DRAFT, GRADE_DRAFT.ID.eq(id))) {
      open(
          new Draft(
              id, instructor, apprentice, task, tag, entries, corrects, Optional.empty(), Optional.empty(), knownAt,
              clock.instant(), Optional.empty()));
    }
  }

  /** Whether a draft with this id was ever begun, put aside or not. */
  boolean isKnown(UUID id) {
    return database.dsl().fetchExists(GRADE_DRAFT, GRADE_DRAFT.ID.eq(id));
  }

  private Draft open(Draft draft) {
    database
        .dsl()
        .insertInto(GRADE_DRAFT)
        .set(GRADE_DRAFT.ID, draft.id())
        .set(GRADE_DRAFT.INSTRUCTOR_ID, draft.instructor())
        .set(GRADE_DRAFT.APPRENTICE_ID, draft.apprentice())
        .set(GRADE_DRAFT.TASK_ID, draft.task().value())
        .set(GRADE_DRAFT.TAG, draft.tag())
        .set(GRADE_DRAFT.ENTRIES, draft.entries().toJson())
        .set(GRADE_DRAFT.CORRECTS, draft.corrects().orElse(null))
        .set(GRADE_DRAFT.GROUP_ID, draft.group().orElse(null))
        .set(GRADE_DRAFT.BLIND_OF, draft.blindOf().orElse(null))
        .set(GRADE_DRAFT.CREATED_AT, draft.openedAt())
        .set(GRADE_DRAFT.UPDATED_AT, draft.updatedAt())
        .onConflictDoNothing()
        .execute();
    return draft;
  }

  /** The open drafts of a group, in the order in which they were opened. */
  public List<Draft> group(UUID group) {
    return database.dsl().selectFrom(GRADE_DRAFT).where(GRADE_DRAFT.GROUP_ID.eq(group)).and(isOpen())
        .orderBy(GRADE_DRAFT.CREATED_AT, GRADE_DRAFT.ID).fetch(BenchStore::toDraft);
  }

  /** What other instructors have open of the same work. */
  public List<Draft> sameWork(Draft draft) {
    return database.dsl().selectFrom(GRADE_DRAFT)
        .where(GRADE_DRAFT.APPRENTICE_ID.eq(draft.apprentice()))
        .and(GRADE_DRAFT.TASK_ID.eq(draft.task().value()))
        .and(GRADE_DRAFT.TAG.eq(draft.tag()))
        .and(GRADE_DRAFT.INSTRUCTOR_ID.ne(draft.instructor()))
        .and(GRADE_DRAFT.CORRECTS.isNull())
        .and(GRADE_DRAFT.BLIND_OF.isNull())
        .and(isOpen())
        .fetch(BenchStore::toDraft);
  }

  /** The limits that an instructor set of their own when they last signed this task, and nothing else. */
  public Entries lastLimits(UUID instructor, TaskId task) {
    return database.dsl().selectFrom(GRADE_DRAFT)
        .where(GRADE_DRAFT.INSTRUCTOR_ID.eq(instructor))
        .and(GRADE_DRAFT.TASK_ID.eq(task.value()))
        .and(GRADE_DRAFT.SIGNED_RECORD.isNotNull())
        .orderBy(GRADE_DRAFT.UPDATED_AT.desc(), GRADE_DRAFT.ID)
        .limit(1)
        .fetchOptional(BenchStore::toDraft)
        .map(Draft::entries)
        .map(e -> new Entries(false, Map.of(), Map.of(), e.lowers(), e.uppers(), "", ""))
        .orElseGet(Entries::none);
  }

  /** Whether a draft, put aside or not, is this instructor's. */
  public boolean isDraftOf(UUID instructor, UUID draft) {
    return database.dsl().fetchExists(
        GRADE_DRAFT, GRADE_DRAFT.ID.eq(draft).and(GRADE_DRAFT.INSTRUCTOR_ID.eq(instructor)));
  }

  /** Whether a group of drafts, open or not, is this instructor's. */
  public boolean isGroupOf(UUID instructor, UUID group) {
    return database.dsl().fetchExists(
        GRADE_DRAFT, GRADE_DRAFT.GROUP_ID.eq(group).and(GRADE_DRAFT.INSTRUCTOR_ID.eq(instructor)));
  }

  /** The draft with this id, open or signed; empty if there is none or it was discarded. */
  public Optional<Draft> draft(UUID id) {
    return database
        .dsl()
        .selectFrom(GRADE_DRAFT)
        .where(GRADE_DRAFT.ID.eq(id))
        .and(GRADE_DRAFT.DISCARDED_AT.isNull())
        .fetchOptional(BenchStore::toDraft);
  }

  /** An instructor's open drafts, the one worked on last first. */
  public List<Draft> openDrafts(UUID instructor) {
    return database
        .dsl()
        .selectFrom(GRADE_DRAFT)
        .where(GRADE_DRAFT.INSTRUCTOR_ID.eq(instructor))
        .and(isOpen())
        .orderBy(GRADE_DRAFT.UPDATED_AT.desc(), GRADE_DRAFT.ID)
        .fetch(BenchStore::toDraft);
  }

  /**
   * Keeps what has been entered.
   *
   * @return false, with nothing changed, if the draft has been signed or discarded
   */
  public boolean keep(UUID draft, Entries entries) {
    return database
            .dsl()
            .update(GRADE_DRAFT)
            .set(GRADE_DRAFT.ENTRIES, entries.toJson())
            .set(GRADE_DRAFT.UPDATED_AT, clock.instant())
            .where(GRADE_DRAFT.ID.eq(draft))
            .and(isOpen())
            .execute()
        == 1;
  }

  /**
   * Puts a draft aside for good.
   *
   * @return false, with nothing changed, if it has been signed or discarded already
   */
  public boolean discard(UUID draft) {
    return database
            .dsl()
            .update(GRADE_DRAFT)
            .set(GRADE_DRAFT.DISCARDED_AT, clock.instant())
            .where(GRADE_DRAFT.ID.eq(draft))
            .and(isOpen())
            .execute()
        == 1;
  }

  private static Condition isOpen() {
    return GRADE_DRAFT.SIGNED_RECORD.isNull().and(GRADE_DRAFT.DISCARDED_AT.isNull());
  }

  private static Draft toDraft(Record row) {
    return new Draft(
        row.get(GRADE_DRAFT.ID),
        row.get(GRADE_DRAFT.INSTRUCTOR_ID),
        row.get(GRADE_DRAFT.APPRENTICE_ID),
        TaskId.of(row.get(GRADE_DRAFT.TASK_ID)),
        row.get(GRADE_DRAFT.TAG),
        Entries.fromJson(row.get(GRADE_DRAFT.ENTRIES)),
        Optional.ofNullable(row.get(GRADE_DRAFT.CORRECTS)),
        Optional.ofNullable(row.get(GRADE_DRAFT.GROUP_ID)),
        Optional.ofNullable(row.get(GRADE_DRAFT.BLIND_OF)),
        row.get(GRADE_DRAFT.CREATED_AT),
        row.get(GRADE_DRAFT.UPDATED_AT),
        Optional.ofNullable(row.get(GRADE_DRAFT.SIGNED_RECORD)));
  }
}

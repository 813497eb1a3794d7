package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.LOAN_INSTRUMENT;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
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

  /** Opens a draft and returns it. */
  public Draft open(
      UUID instructor, UUID apprentice, TaskId task, String tag, Entries entries, Optional<UUID> corrects) {
    Instant now = clock.instant();
    Draft draft =
        new Draft(UUID.randomUUID(), instructor, apprentice, task, tag, entries, corrects, now, Optional.empty());
    database
        .dsl()
        .insertInto(GRADE_DRAFT)
        .set(GRADE_DRAFT.ID, draft.id())
        .set(GRADE_DRAFT.INSTRUCTOR_ID, instructor)
        .set(GRADE_DRAFT.APPRENTICE_ID, apprentice)
        .set(GRADE_DRAFT.TASK_ID, task.value())
        .set(GRADE_DRAFT.TAG, tag)
        .set(GRADE_DRAFT.ENTRIES, entries.toJson())
        .set(GRADE_DRAFT.CORRECTS, corrects.orElse(null))
        .set(GRADE_DRAFT.CREATED_AT, now)
        .set(GRADE_DRAFT.UPDATED_AT, now)
        .execute();
    return draft;
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
        row.get(GRADE_DRAFT.UPDATED_AT),
        Optional.ofNullable(row.get(GRADE_DRAFT.SIGNED_RECORD)));
  }
}

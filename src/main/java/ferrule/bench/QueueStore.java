package ferrule.bench;

import static ferrule.store.jooq.Tables.CHECK_REQUEST;
import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PERSON;

import ferrule.store.Database;
import ferrule.store.jooq.tables.Person;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Field;
import org.jooq.Record7;
import org.jooq.SelectSelectStep;
import org.jooq.impl.DSL;

/**
 * The queue of work that is ready to be checked, in the database. A request leaves it when its grade is signed or it is
 * withdrawn; if its draft is put aside, it waits again in its old place.
 */
public final class QueueStore {

  private static final Person INSTRUCTOR = PERSON.as("instructor");

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public QueueStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * Puts a piece of work at the end of the queue.
   *
   * @return false, with nothing changed, if the same work of this apprentice is in the queue already
   */
  public boolean ask(UUID apprentice, TaskId task, String tag) {
    return database.inTransaction(
        dsl -> {
          // one apprentice's requests take turns, so that a double tap asks once
          dsl.select(PERSON.ID).from(PERSON).where(PERSON.ID.eq(apprentice)).forUpdate().fetch();
          boolean there =
              waiting().stream().anyMatch(
                  r -> r.apprentice().equals(apprentice) && r.task().equals(task) && r.tag().equals(tag));
          if (there) {
            return false;
          }
          dsl.insertInto(CHECK_REQUEST)
              .set(CHECK_REQUEST.ID, UUID.randomUUID())
              .set(CHECK_REQUEST.APPRENTICE_ID, apprentice)
              .set(CHECK_REQUEST.TASK_ID, task.value())
              .set(CHECK_REQUEST.TAG, tag)
              .set(CHECK_REQUEST.ASKED_AT, clock.instant())
              .execute();
          return true;
        });
  }

  /** What waits or is being graded, in the order of asking. */
  public List<CheckRequest> waiting() {
    Field<String> nobody = DSL.castNull(INSTRUCTOR.FULL_NAME);
    Condition asked = CHECK_REQUEST.WITHDRAWN_AT.isNull().and(PERSON.LEFT_ON.isNull());
    // in two, so that each reads what is open and not all that was ever asked
    return fields(nobody)
        .from(CHECK_REQUEST)
        .join(PERSON).on(PERSON.ID.eq(CHECK_REQUEST.APPRENTICE_ID))
        .where(asked).and(CHECK_REQUEST.DRAFT_ID.isNull())
        .unionAll(
            fields(INSTRUCTOR.FULL_NAME)
                .from(GRADE_DRAFT)
                .join(CHECK_REQUEST).on(CHECK_REQUEST.DRAFT_ID.eq(GRADE_DRAFT.ID))
                .join(PERSON).on(PERSON.ID.eq(CHECK_REQUEST.APPRENTICE_ID))
                .leftJoin(INSTRUCTOR).on(INSTRUCTOR.ID.eq(GRADE_DRAFT.INSTRUCTOR_ID).and(GRADE_DRAFT.DISCARDED_AT.isNull()))
                .where(asked).and(GRADE_DRAFT.SIGNED_RECORD.isNull()))
        .orderBy(DSL.field(DSL.name("asked_at")), DSL.field(DSL.name("id")))
        .fetch(
            row -> new CheckRequest(
                row.value1(), row.value2(), row.value3(), TaskId.of(row.value4()), row.value5(), row.value6(),
                Optional.ofNullable(row.value7())));
  }

  private SelectSelectStep<Record7<UUID, UUID, String, String, String, Instant, String>> fields(Field<String> instructor) {
    return database.dsl().select(
        CHECK_REQUEST.ID, CHECK_REQUEST.APPRENTICE_ID, PERSON.FULL_NAME, CHECK_REQUEST.TASK_ID, CHECK_REQUEST.TAG,
        CHECK_REQUEST.ASKED_AT, instructor.as("instructor_name"));
  }

  /** Whether a request, waiting or not, is this apprentice's. */
  public boolean isOf(UUID request, UUID apprentice) {
    return database.dsl().fetchExists(
        CHECK_REQUEST, CHECK_REQUEST.ID.eq(request).and(CHECK_REQUEST.APPRENTICE_ID.eq(apprentice)));
  }

  /**
   * Takes one's own request back.
   *
   * @return false, with nothing changed, if it is not in the queue or is being graded
   */
  public boolean withdraw(UUID request, UUID apprentice) {
    return database.dsl()
            .update(CHECK_REQUEST)
            .set(CHECK_REQUEST.WITHDRAWN_AT, clock.instant())
            .where(CHECK_REQUEST.ID.eq(request))
            .and(CHECK_REQUEST.APPRENTICE_ID.eq(apprentice))
            .and(isFree())
            .execute()
        == 1;
  }

  /**
   * Notes that a request is graded in this draft.
   *
   * @return false, with nothing changed, if it is not in the queue or somebody else has taken it
   */
  public boolean take(UUID request, UUID draft) {
    return database.dsl()
            .update(CHECK_REQUEST)
            .set(CHECK_REQUEST.DRAFT_ID, draft)
            .where(CHECK_REQUEST.ID.eq(request))
            .and(isFree())
            .execute()
        == 1;
  }

  private static Condition isFree() {
    return CHECK_REQUEST.WITHDRAWN_AT.isNull()
        .and(
            CHECK_REQUEST.DRAFT_ID.isNull().or(
                DSL.exists(
                    DSL.selectOne().from(GRADE_DRAFT)
                        .where(GRADE_DRAFT.ID.eq(CHECK_REQUEST.DRAFT_ID))
                        .and(GRADE_DRAFT.DISCARDED_AT.isNotNull()))));
  }
}

package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.RECORD_LOG;
import static ferrule.store.jooq.Tables.SECOND_GRADE;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

/** Grades of the same work by several instructors who did not see each other's, in the database. */
public final class BlindStore {

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public BlindStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * Keeps a grade that was made without seeing the first one, and closes its draft.
   *
   * @param work the sign-off of the work
   * @param draft that the grade was made in
   * @return false, with nothing changed, if this grader has graded the work before
   */
  public boolean keep(UUID work, UUID grader, UUID draft, Grade grade) {
    return database.inTransaction(
        dsl -> {
          int kept =
              dsl.insertInto(SECOND_GRADE)
                  .set(SECOND_GRADE.ID, UUID.randomUUID())
                  .set(SECOND_GRADE.RECORD_ID, work)
                  .set(SECOND_GRADE.GRADER_ID, grader)
                  .set(SECOND_GRADE.DRAFT_ID, draft)
                  .set(SECOND_GRADE.GRADED_AT, clock.instant())
                  .set(SECOND_GRADE.GRADE, RecordJson.write(grade))
                  .onConflictDoNothing()
                  .execute();
          dsl.update(GRADE_DRAFT).set(GRADE_DRAFT.DISCARDED_AT, clock.instant()).where(GRADE_DRAFT.ID.eq(draft))
              .and(GRADE_DRAFT.SIGNED_RECORD.isNull()).execute();
          return kept == 1;
        });
  }

  /** Whether this instructor has graded the work without seeing the first grade. */
  public boolean hasGraded(UUID work, UUID grader) {
    return database.dsl().fetchExists(
        SECOND_GRADE, SECOND_GRADE.RECORD_ID.eq(work).and(SECOND_GRADE.GRADER_ID.eq(grader)));
  }

  /** The grades of this work that others made without seeing the first one, by grader's name. */
  public Map<String, Grade> ofWork(UUID work) {
    Map<String, Grade> grades = new LinkedHashMap<>();
    database.dsl().select(PERSON.FULL_NAME, SECOND_GRADE.GRADE).from(SECOND_GRADE)
        .join(PERSON).on(PERSON.ID.eq(SECOND_GRADE.GRADER_ID))
        .where(SECOND_GRADE.RECORD_ID.eq(work))
        .orderBy(SECOND_GRADE.GRADED_AT, SECOND_GRADE.ID)
        .forEach(row -> grades.put(row.value1(), RecordJson.readGrade(row.value2())));
    return grades;
  }

  /**
   * The findings of everybody who graded a piece of work that was graded more than once: by work, the one who signed
   * it first, then by grader, each in the task's order of criteria. A correction, which is made after the other grade
   * may have been seen, is not among them.
   */
  public List<BlindGrade> blindGrades() {
    Map<UUID, List<BlindGrade>> byWork = new LinkedHashMap<>();
    database
        .dsl()
        .select(SECOND_GRADE.fields())
        .select(PERSON.FULL_NAME)
        .from(SECOND_GRADE)
        .join(PERSON)
        .on(PERSON.ID.eq(SECOND_GRADE.GRADER_ID))
        .orderBy(SECOND_GRADE.GRADED_AT, SECOND_GRADE.RECORD_ID, SECOND_GRADE.GRADER_ID)
        .forEach(
            row -> {
              List<BlindGrade> grades = byWork.computeIfAbsent(row.get(SECOND_GRADE.RECORD_ID), w -> new ArrayList<>());
              findings(
                      RecordJson.readGrade(row.get(SECOND_GRADE.GRADE)), row.get(SECOND_GRADE.RECORD_ID),
                      row.get(SECOND_GRADE.GRADER_ID), row.get(PERSON.FULL_NAME), false,
                      row.get(SECOND_GRADE.GRADED_AT))
                  .forEach(grades::add);
            });
    List<BlindGrade> all = new ArrayList<>();
    Map<UUID, String> signed =
        database.dsl().select(RECORD_LOG.ID, RECORD_LOG.BODY).from(RECORD_LOG)
            .where(RECORD_LOG.ID.in(byWork.keySet())).fetchMap(RECORD_LOG.ID, RECORD_LOG.BODY);
    byWork.forEach(
        (work, grades) -> {
          BenchRecord record = RecordJson.read(signed.get(work));
          Signature by = record.signature();
          findings(record.grade().orElseThrow(), work, by.by(), by.name(), true, by.at()).forEach(all::add);
          all.addAll(grades);
        });
    return all;
  }

  private static Stream<BlindGrade> findings(
      Grade grade, UUID work, UUID grader, String name, boolean first, Instant at) {
    return grade.findings().stream().map(f -> new BlindGrade(work, grade.task(), grader, name, first, at, f));
  }
}

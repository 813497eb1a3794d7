package ferrule.bench;

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
   * Keeps a grade that was made without seeing the first one.
   *
   * @param work the sign-off of the work
   * @param draft that the grade was made in
   * @return false, with nothing changed, if this grader has graded the work before
   */
  public boolean keep(UUID work, UUID grader, UUID draft, Grade grade) {
    return database
            .dsl()
            .insertInto(SECOND_GRADE)
            .set(SECOND_GRADE.ID, UUID.randomUUID())
            .set(SECOND_GRADE.RECORD_ID, work)
            .set(SECOND_GRADE.GRADER_ID, grader)
            .set(SECOND_GRADE.DRAFT_ID, draft)
            .set(SECOND_GRADE.GRADED_AT, clock.instant())
            .set(SECOND_GRADE.GRADE, RecordJson.write(grade))
            .onConflictDoNothing()
            .execute()
        == 1;
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

package ferrule.bench;

import static ferrule.store.jooq.Tables.CHECK_REQUEST;
import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.RECORD_LOG;

import ferrule.store.Database;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.jooq.Condition;
import org.jooq.Field;
import org.jooq.Row3;
import org.jooq.impl.DSL;
import org.jooq.impl.SQLDataType;

/** How work goes through the bench, counted in the database: what was signed when, and how long it waited. */
public final class FlowStore {

  private final Database database;

  /** A store over this database. */
  public FlowStore(Database database) {
    this.database = database;
  }

  /**
   * What was signed in a span of time.
   *
   * @param graded pieces of work signed for the first time, those that were corrected or withdrawn later among them
   * @param seconds second signatures
   * @param corrected corrections of earlier grades
   * @param withdrawn sign-offs taken back
   */
  public record Signed(int graded, int seconds, int corrected, int withdrawn) {}

  /**
   * A piece of work from the apprentice's word that it is ready.
   *
   * @param asked when they said so
   * @param taken when the instructor began to grade it; empty if nobody did, or put it aside
   * @param grader who did
   * @param graded when the grade was signed
   * @param withdrawn when the apprentice took it out of the queue
   * @param left the day on which the apprentice left the programme, if they did
   */
  public record Wait(
      Instant asked,
      Optional<Instant> taken,
      Optional<UUID> grader,
      Optional<Instant> graded,
      Optional<Instant> withdrawn,
      Optional<LocalDate> left) {}

  /**
   * What was signed in each of the spans between these instants.
   *
   * @param bounds ascending, at least two; a span has its first instant and not its last
   * @param apprentices whose work; empty for everybody's
   */
  public List<Signed> signed(List<Instant> bounds, Optional<? extends Collection<UUID>> apprentices) {
    int spans = bounds.size() - 1;
    @SuppressWarnings({"unchecked", "rawtypes"})
    Row3<Integer, Instant, Instant>[] rows = IntStream.range(0, spans)
        .mapToObj(i -> DSL.row(
            DSL.val(i, SQLDataType.INTEGER), DSL.val(bounds.get(i), SQLDataType.INSTANT),
            DSL.val(bounds.get(i + 1), SQLDataType.INSTANT)))
        .toArray(Row3[]::new);
    var span = DSL.values(rows).as("span", "number", "begins", "ends");
    Field<Integer> number = span.field("number", Integer.class);
    int[][] counts = new int[spans][4];
    database.dsl().select(number, RECORD_LOG.KIND, DSL.count())
        .from(span)
        .join(RECORD_LOG)
        .on(RECORD_LOG.RECORDED_AT.ge(span.field("begins", Instant.class)))
        .and(RECORD_LOG.RECORDED_AT.lt(span.field("ends", Instant.class)))
        .where(RECORD_LOG.KIND.in(RecordStore.KINDS))
        .and(apprentices.<Condition>map(RECORD_LOG.SUBJECT_ID::in).orElse(DSL.noCondition()))
        .groupBy(number, RECORD_LOG.KIND)
        .forEach(row -> counts[row.value1()][place(row.value2())] = row.value3());
    List<Signed> signed = new ArrayList<>();
    for (int[] of : counts) {
      signed.add(new Signed(of[0], of[1], of[2], of[3]));
    }
    return signed;
  }

  private static int place(String kind) {
    return List.of(
        BenchRecord.SignOff.KIND, BenchRecord.SecondSignature.KIND, BenchRecord.Correction.KIND,
        BenchRecord.Withdrawal.KIND).indexOf(kind);
  }

  /**
   * The pieces of work that were said to be ready from one instant up to another, as far as they had come by the latter, in
   * the order of asking.
   *
   * @param apprentices whose work; empty for everybody's
   */
  public List<Wait> waits(Instant from, Instant upTo, Optional<? extends Collection<UUID>> apprentices) {
    return database.dsl()
        .select(
            CHECK_REQUEST.ASKED_AT, CHECK_REQUEST.WITHDRAWN_AT, GRADE_DRAFT.CREATED_AT, GRADE_DRAFT.INSTRUCTOR_ID,
            RECORD_LOG.RECORDED_AT, PERSON.LEFT_ON)
        .from(CHECK_REQUEST)
        .join(PERSON).on(PERSON.ID.eq(CHECK_REQUEST.APPRENTICE_ID))
        .leftJoin(GRADE_DRAFT)
        .on(GRADE_DRAFT.ID.eq(CHECK_REQUEST.DRAFT_ID), GRADE_DRAFT.DISCARDED_AT.isNull(), GRADE_DRAFT.CREATED_AT.le(upTo))
        .leftJoin(RECORD_LOG)
        .on(RECORD_LOG.ID.eq(GRADE_DRAFT.SIGNED_RECORD), RECORD_LOG.RECORDED_AT.le(upTo))
        .where(CHECK_REQUEST.ASKED_AT.ge(from).and(CHECK_REQUEST.ASKED_AT.le(upTo)))
        .and(apprentices.<Condition>map(CHECK_REQUEST.APPRENTICE_ID::in).orElse(DSL.noCondition()))
        .orderBy(CHECK_REQUEST.ASKED_AT, CHECK_REQUEST.ID)
        .fetch(row -> new Wait(
            row.value1(), Optional.ofNullable(row.value3()), Optional.ofNullable(row.value4()),
            Optional.ofNullable(row.value5()),
            Optional.ofNullable(row.value2()).filter(at -> !at.isAfter(upTo)), Optional.ofNullable(row.value6())));
  }
}

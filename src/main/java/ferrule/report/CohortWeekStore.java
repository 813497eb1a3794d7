package ferrule.report;

import static ferrule.store.jooq.Tables.COHORT_WEEK;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;

import ferrule.report.wait.Quartiles;
import ferrule.store.Database;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.jooq.Field;
import org.jooq.impl.DSL;
import org.jooq.impl.SQLDataType;

/** How cohorts stood at the ends of weeks, kept so that each week is judged once. */
public final class CohortWeekStore {

  private static final int SECONDS_A_DAY = 86_400;

  private final Database database;

  /** A store over this database. */
  public CohortWeekStore(Database database) {
    this.database = database;
  }

  /**
   * A week as it is kept.
   *
   * @param basis says what it was worked out from: another one makes it worthless
   * @param week empty if nobody was there
   */
  record Kept(String basis, Optional<CohortWeek> week) {}

  /** The kept weeks of a cohort, by their last day. */
  Map<LocalDate, Kept> weeks(UUID cohort) {
    Map<LocalDate, Kept> weeks = new HashMap<>();
    database.dsl().selectFrom(COHORT_WEEK).where(COHORT_WEEK.COHORT_ID.eq(cohort)).forEach(row -> {
      Optional<CohortWeek> week = row.getApprentices() == 0 ? Optional.empty() : Optional.of(new CohortWeek(
          row.getEndsOn(), row.getApprentices(), row.getCompetencies(), row.getComplete(),
          new Quartiles(row.getApprentices(), row.getLowerQuartile(), row.getMedian(), row.getUpperQuartile())));
      weeks.put(row.getEndsOn(), new Kept(row.getBasis(), week));
    });
    return weeks;
  }

  /** Keeps a week in the place of what was kept of it. */
  void keep(UUID cohort, LocalDate day, Kept kept) {
    Optional<CohortWeek> week = kept.week();
    database.transact(dsl -> {
      dsl.deleteFrom(COHORT_WEEK).where(COHORT_WEEK.COHORT_ID.eq(cohort).and(COHORT_WEEK.ENDS_ON.eq(day))).execute();
      // whoever else keeps the same week at this moment keeps the same figures
      dsl.insertInto(COHORT_WEEK)
          .set(COHORT_WEEK.COHORT_ID, cohort)
          .set(COHORT_WEEK.ENDS_ON, day)
          .set(COHORT_WEEK.BASIS, kept.basis())
          .set(COHORT_WEEK.APPRENTICES, week.map(CohortWeek::apprentices).orElse(0))
          .set(COHORT_WEEK.COMPETENCIES, week.map(CohortWeek::competencies).orElse(0))
          .set(COHORT_WEEK.COMPLETE, week.map(CohortWeek::complete).orElse(0))
          .set(COHORT_WEEK.LOWER_QUARTILE, week.map(w -> w.quartiles().lower()).orElse(0.0))
          .set(COHORT_WEEK.MEDIAN, week.map(w -> w.quartiles().median()).orElse(0.0))
          .set(COHORT_WEEK.UPPER_QUARTILE, week.map(w -> w.quartiles().upper()).orElse(0.0))
          .onConflictDoNothing()
          .execute();
    });
  }

  /**
   * How many answers these people had given by the end of each day (UTC) on which they gave any. An answer that comes in late
   * with its own time, from paper or from a device that was offline, changes the figures of the weeks since.
   */
  TreeMap<Long, Integer> answersByDay(Collection<UUID> people) {
    Field<Long> day = DSL.floor(DSL.epoch(DRILL_RESPONSE.ANSWERED_AT).div(DSL.inline(SECONDS_A_DAY))).cast(SQLDataType.BIGINT);
    TreeMap<Long, Integer> byDay = new TreeMap<>();
    database.dsl().select(day, DSL.count())
        .from(DRILL_RESPONSE)
        .join(DRILL_SITTING).on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
        .where(DRILL_SITTING.PERSON_ID.in(people))
        .groupBy(day)
        .forEach(row -> byDay.put(row.value1(), row.value2()));
    int sum = 0;
    for (Map.Entry<Long, Integer> entry : byDay.entrySet()) {
      sum += entry.getValue();
      entry.setValue(sum);
    }
    return byDay;
  }

  /** The day (UTC) of an instant, as {@link #answersByDay} counts it. */
  static long dayOf(Instant at) {
    return Math.floorDiv(at.getEpochSecond(), SECONDS_A_DAY);
  }
}

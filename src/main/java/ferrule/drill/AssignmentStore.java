package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ASSIGNMENT;
import static ferrule.store.jooq.Tables.DRILL_CHOSEN;
import static ferrule.store.jooq.Tables.DRILL_EXTRA_TIME;
import static ferrule.store.jooq.Tables.DRILL_PACE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;

import ferrule.store.Database;
import ferrule.store.jooq.tables.records.DrillAssignmentRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;

/** Assignments and the time that apprentices have for them, in the database. */
public final class AssignmentStore {

  private final Database database;

  AssignmentStore(Database database) {
    this.database = database;
  }

  /** Adds an assignment. */
  public void add(Assignment a) {
    database.transact(
        dsl -> {
          DrillAssignmentRecord row = dsl.newRecord(DRILL_ASSIGNMENT);
          row.setId(a.id());
          row.setSetBy(a.setBy());
          row.setSetAt(a.setAt());
          row.setWithdrawnAt(a.withdrawnAt().orElse(null));
          fill(row, a);
          row.insert();
          choose(dsl, a);
        });
  }

  private static void fill(DrillAssignmentRecord row, Assignment a) {
    Conditions c = a.conditions();
    row.setCohortId(a.cohort());
    row.setTitle(a.title());
    row.setPlan(PlanDocument.write(a.plan()));
    row.setOpensAt(c.opens().orElse(null));
    row.setDueOn(c.dueOn());
    row.setDueTime(c.dueTime().orElse(null));
    row.setLateWork(c.lateWork());
    row.setAttempts(c.attempts());
    row.setCounts(word(c.counts()));
    row.setFeedback(word(c.feedback()));
    row.setLimitMinutes(c.limit().map(l -> (int) l.toMinutes()).orElse(null));
  }

  private static void choose(DSLContext dsl, Assignment a) {
    for (UUID person : a.chosen()) {
      dsl.insertInto(DRILL_CHOSEN)
          .set(DRILL_CHOSEN.ASSIGNMENT_ID, a.id())
          .set(DRILL_CHOSEN.PERSON_ID, person)
          .execute();
    }
  }

  private static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT);
  }

  /**
   * Puts an assignment in the place of the one with its id; who set it and when stays as it was.
   *
   * @return false, with nothing changed, if somebody has started it or it was taken back
   */
  public boolean edit(Assignment a) {
    return database.inTransaction(
        dsl -> {
          if (!lockStanding(dsl, a.id()) || isStarted(dsl, a.id())) {
            return false;
          }
          DrillAssignmentRecord row = dsl.fetchSingle(DRILL_ASSIGNMENT, DRILL_ASSIGNMENT.ID.eq(a.id()));
          fill(row, a);
          row.update();
          dsl.deleteFrom(DRILL_CHOSEN).where(DRILL_CHOSEN.ASSIGNMENT_ID.eq(a.id())).execute();
          choose(dsl, a);
          return true;
        });
  }

  /** The assignment with this id, withdrawn or not, if there is one. */
  public Optional<Assignment> find(UUID id) {
    return list(DRILL_ASSIGNMENT.ID.eq(id)).stream().findFirst();
  }

  /** The conditions of the assignment with this id, if there is one. */
  public Optional<Conditions> conditions(UUID id) {
    return database
        .dsl()
        // with each answer: without the plan
        .select(DRILL_ASSIGNMENT.OPENS_AT, DRILL_ASSIGNMENT.DUE_ON, DRILL_ASSIGNMENT.DUE_TIME, DRILL_ASSIGNMENT.LATE_WORK)
        .select(DRILL_ASSIGNMENT.ATTEMPTS, DRILL_ASSIGNMENT.COUNTS, DRILL_ASSIGNMENT.FEEDBACK)
        .select(DRILL_ASSIGNMENT.LIMIT_MINUTES)
        .from(DRILL_ASSIGNMENT)
        .where(DRILL_ASSIGNMENT.ID.eq(id))
        .fetchOptional(AssignmentStore::toConditions);
  }

  /** The assignments that stand, the one due last first. */
  public List<Assignment> standing() {
    return list(DRILL_ASSIGNMENT.WITHDRAWN_AT.isNull());
  }

  /** Whether a drill was ever set. */
  public boolean any() {
    return database.dsl().fetchExists(DRILL_ASSIGNMENT);
  }

  /** The assignments that were taken back, the one due last first. */
  public List<Assignment> withdrawn() {
    return list(DRILL_ASSIGNMENT.WITHDRAWN_AT.isNotNull());
  }

  /** The assignments of these cohorts that stand, the one due last first. */
  public List<Assignment> standingIn(Collection<UUID> cohorts) {
    return list(DRILL_ASSIGNMENT.WITHDRAWN_AT.isNull().and(DRILL_ASSIGNMENT.COHORT_ID.in(cohorts)));
  }

  /** The assignments that stand and that a member of these cohorts is to take, the one due last first. */
  public List<Assignment> standingFor(UUID person, Collection<UUID> cohorts) {
    return standingIn(cohorts).stream().filter(a -> a.isFor(person)).toList();
  }

  private List<Assignment> list(Condition which) {
    List<DrillAssignmentRecord> rows =
        database
            .dsl()
            .selectFrom(DRILL_ASSIGNMENT)
            .where(which)
            .orderBy(DRILL_ASSIGNMENT.DUE_ON.desc(), DRILL_ASSIGNMENT.SET_AT.desc(), DRILL_ASSIGNMENT.ID)
            .fetch();
    Map<UUID, Set<UUID>> chosen = new HashMap<>();
    database
        .dsl()
        .selectFrom(DRILL_CHOSEN)
        .where(DRILL_CHOSEN.ASSIGNMENT_ID.in(rows.stream().map(DrillAssignmentRecord::getId).toList()))
        .forEach(c -> chosen.computeIfAbsent(c.getAssignmentId(), id -> new HashSet<>()).add(c.getPersonId()));
    return rows.stream().map(r -> toAssignment(r, chosen.getOrDefault(r.getId(), Set.of()))).toList();
  }

  /**
   * Takes an assignment back.
   *
   * @return false, with nothing changed, if somebody has started it or it was taken back before
   */
  public boolean withdraw(UUID id, Instant at) {
    return database.inTransaction(
        dsl -> {
          if (!lockStanding(dsl, id) || isStarted(dsl, id)) {
            return false;
          }
          dsl.update(DRILL_ASSIGNMENT)
              .set(DRILL_ASSIGNMENT.WITHDRAWN_AT, at)
              .where(DRILL_ASSIGNMENT.ID.eq(id))
              .execute();
          return true;
        });
  }

  /** Sets an assignment again that was taken back; nothing happens if it stands. */
  public void restore(UUID id) {
    database
        .dsl()
        .update(DRILL_ASSIGNMENT)
        .setNull(DRILL_ASSIGNMENT.WITHDRAWN_AT)
        .where(DRILL_ASSIGNMENT.ID.eq(id))
        .execute();
  }

  /** Whether somebody has started it. */
  public boolean isStarted(UUID id) {
    return isStarted(database.dsl(), id);
  }

  private static boolean isStarted(DSLContext dsl, UUID id) {
    return dsl.fetchExists(DRILL_SITTING, DRILL_SITTING.ASSIGNMENT_ID.eq(id));
  }

  // starting, changing and taking back wait for each other, so that nobody starts what is being changed
  static boolean lockStanding(DSLContext dsl, UUID assignment) {
    return dsl.select(DRILL_ASSIGNMENT.ID)
            .from(DRILL_ASSIGNMENT)
            .where(DRILL_ASSIGNMENT.ID.eq(assignment))
            .and(DRILL_ASSIGNMENT.WITHDRAWN_AT.isNull())
            .forUpdate()
            .fetchOne()
        != null;
  }

  // -- time

  /** The time that these people have in an assignment; whoever has no accommodation is left out. */
  public Map<UUID, Pace> paces(UUID assignment, Collection<UUID> people) {
    Map<UUID, Integer> percent =
        database
            .dsl()
            .selectFrom(DRILL_PACE)
            .where(DRILL_PACE.PERSON_ID.in(people))
            .fetchMap(DRILL_PACE.PERSON_ID, DRILL_PACE.PERCENT);
    Map<UUID, Integer> extra =
        database
            .dsl()
            .selectFrom(DRILL_EXTRA_TIME)
            .where(DRILL_EXTRA_TIME.ASSIGNMENT_ID.eq(assignment))
            .and(DRILL_EXTRA_TIME.PERSON_ID.in(people))
            .fetchMap(DRILL_EXTRA_TIME.PERSON_ID, DRILL_EXTRA_TIME.MINUTES);
    Set<UUID> either = new HashSet<>(percent.keySet());
    either.addAll(extra.keySet());
    Map<UUID, Pace> paces = new HashMap<>();
    either.forEach(
        p -> paces.put(p, new Pace(percent.getOrDefault(p, Pace.USUAL), extra.getOrDefault(p, 0))));
    return paces;
  }

  /** The time that a person has in an assignment. */
  public Pace pace(UUID assignment, UUID person) {
    return paces(assignment, List.of(person)).getOrDefault(person, Pace.PLAIN);
  }

  /** Gives a person this share of every time limit and these minutes on top in one assignment. */
  public void give(UUID assignment, UUID person, Pace pace, UUID by, Instant at) {
    database.transact(
        dsl -> {
          dsl.deleteFrom(DRILL_PACE).where(DRILL_PACE.PERSON_ID.eq(person)).execute();
          dsl.deleteFrom(DRILL_EXTRA_TIME)
              .where(DRILL_EXTRA_TIME.PERSON_ID.eq(person).and(DRILL_EXTRA_TIME.ASSIGNMENT_ID.eq(assignment)))
              .execute();
          if (pace.percent() != Pace.USUAL) {
            dsl.insertInto(DRILL_PACE)
                .set(DRILL_PACE.PERSON_ID, person)
                .set(DRILL_PACE.PERCENT, pace.percent())
                .set(DRILL_PACE.GIVEN_BY, by)
                .set(DRILL_PACE.GIVEN_AT, at)
                .execute();
          }
          if (pace.extraMinutes() > 0) {
            dsl.insertInto(DRILL_EXTRA_TIME)
                .set(DRILL_EXTRA_TIME.ASSIGNMENT_ID, assignment)
                .set(DRILL_EXTRA_TIME.PERSON_ID, person)
                .set(DRILL_EXTRA_TIME.MINUTES, pace.extraMinutes())
                .set(DRILL_EXTRA_TIME.GIVEN_BY, by)
                .set(DRILL_EXTRA_TIME.GIVEN_AT, at)
                .execute();
          }
        });
  }

  private static Assignment toAssignment(DrillAssignmentRecord row, Set<UUID> chosen) {
    return new Assignment(
        row.getId(),
        row.getCohortId(),
        chosen,
        row.getSetBy(),
        row.getTitle(),
        PlanDocument.read(row.getPlan()),
        toConditions(row),
        row.getSetAt(),
        Optional.ofNullable(row.getWithdrawnAt()));
  }

  private static Conditions toConditions(Record row) {
    return new Conditions(
        Optional.ofNullable(row.get(DRILL_ASSIGNMENT.OPENS_AT)),
        row.get(DRILL_ASSIGNMENT.DUE_ON),
        Optional.ofNullable(row.get(DRILL_ASSIGNMENT.DUE_TIME)),
        row.get(DRILL_ASSIGNMENT.LATE_WORK),
        row.get(DRILL_ASSIGNMENT.ATTEMPTS),
        Conditions.Counts.valueOf(row.get(DRILL_ASSIGNMENT.COUNTS).toUpperCase(Locale.ROOT)),
        Conditions.Feedback.valueOf(row.get(DRILL_ASSIGNMENT.FEEDBACK).toUpperCase(Locale.ROOT)),
        Optional.ofNullable(row.get(DRILL_ASSIGNMENT.LIMIT_MINUTES)).map(Duration::ofMinutes));
  }
}

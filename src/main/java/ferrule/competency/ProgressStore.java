package ferrule.competency;

import static ferrule.store.jooq.Tables.COHORT_MEMBER;
import static ferrule.store.jooq.Tables.KEPT_ORDER;
import static ferrule.store.jooq.Tables.KEPT_PROGRESS;
import static ferrule.store.jooq.Tables.KEPT_VERDICTS;
import static ferrule.store.jooq.Tables.NEW_EVIDENCE;
import static ferrule.store.jooq.Tables.PERSON;

import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.jooq.tables.records.KeptProgressRecord;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Query;
import org.jooq.impl.DSL;

/**
 * How apprentices stand, kept in the database from one page to the next. What is kept equals what judging anew would
 * yield, or is not used:
 *
 * <ul>
 *   <li>Whoever records evidence notes that in the same transaction ({@link ferrule.people.NewEvidenceStore}). About
 *       whom there is such a note, nothing kept is used. Reading what is kept and that there is no note is one statement or
 *       one snapshot, which sees one moment of the database.
 *   <li>Whoever judges anew reads the notes and the version first, then the evidence, and removes only the notes that
 *       were there: what is recorded meanwhile has a note that stays. If the version has moved on by the time of
 *       keeping, somebody else was faster, and nothing is kept. So an older result never takes a newer one's place,
 *       whichever node made it.
 *   <li>What is kept holds from the moment of judging to the first at which the passing of time may change it
 *       ({@link Evidence#constantUntil}); for any other moment it is not used. A note of evidence that counts only from
 *       a later moment stays until then.
 *   <li>It is used for the edition of the programme that it was judged by and on the basis that it was judged on.
 * </ul>
 *
 * <p>Notes are only inserted and removed, and nothing kept has a foreign key, so that judging anew never makes anybody
 * wait who records.
 */
public final class ProgressStore {

  private final Database database;
  private final String basis;
  private final KeptStateStore states;
  private final Map<String, VerdictsDocument> documents = new ConcurrentHashMap<>();

  /**
   * A store over this database.
   *
   * @param curriculum the edition of the curriculum, whose names of parts verdicts rest on
   * @param zone the school's, by whose calendar spans are reckoned
   */
  public ProgressStore(Database database, String curriculum, String zone) {
    this.database = database;
    this.basis = curriculum + " " + zone + " " + VerdictsDocument.FORM;
    this.states = new KeptStateStore(database, basis);
  }

  private VerdictsDocument document(Programme programme) {
    return documents.computeIfAbsent(programme.edition(), edition -> new VerdictsDocument(programme));
  }

  // -- reading

  private Condition holds(Instant asOf) {
    return KEPT_PROGRESS.BASIS.eq(basis)
        .and(KEPT_PROGRESS.JUDGED_AT.le(asOf))
        .and(KEPT_PROGRESS.HOLDS_UNTIL.gt(asOf))
        .and(DSL.notExists(
            DSL.selectOne().from(NEW_EVIDENCE).where(NEW_EVIDENCE.PERSON_ID.eq(KEPT_PROGRESS.PERSON_ID))));
  }

  /** How those of these people stood at an instant, judged by this edition, about whom what is kept holds. */
  Map<UUID, Progress> holding(Collection<UUID> people, Programme programme, Instant asOf) {
    VerdictsDocument document = document(programme);
    Map<UUID, Progress> progress = new HashMap<>();
    database.dsl().select(KEPT_VERDICTS.PERSON_ID, KEPT_VERDICTS.BODY)
        .from(KEPT_PROGRESS)
        .join(KEPT_VERDICTS)
        .on(KEPT_VERDICTS.PERSON_ID.eq(KEPT_PROGRESS.PERSON_ID), KEPT_VERDICTS.VERSION.eq(KEPT_PROGRESS.VERSION))
        .where(KEPT_PROGRESS.PERSON_ID.in(people))
        .and(KEPT_PROGRESS.EDITION.eq(programme.edition()))
        .and(holds(asOf))
        .forEach(row -> progress.put(row.value1(), document.read(row.value1(), asOf, row.value2())));
    return progress;
  }

  /**
   * What is kept of how somebody stands, in the least.
   *
   * @param edition that they are judged by
   */
  record Kept(String edition, States states) {}

  /** The least of how everyone stood at an instant about whom what is kept holds. */
  Map<UUID, Kept> statesHolding(Instant asOf) {
    return states.holding(asOf);
  }

  // -- making anew

  /**
   * What was there before somebody is judged anew.
   *
   * @param version of what is kept of them; 0 if nothing is
   * @param notes of new evidence, by id, with the moment from which it counts
   */
  record Before(long version, Map<Long, Instant> notes) {}

  /** What is there about each of these people; to be asked for before the evidence is read. */
  Map<UUID, Before> before(Collection<UUID> people) {
    Map<UUID, Before> before = new HashMap<>();
    people.forEach(person -> before.put(person, new Before(0, new HashMap<>())));
    database.dsl().select(KEPT_PROGRESS.PERSON_ID, KEPT_PROGRESS.VERSION).from(KEPT_PROGRESS)
        .where(KEPT_PROGRESS.PERSON_ID.in(people))
        .forEach(row -> before.put(row.value1(), new Before(row.value2(), new HashMap<>())));
    database.dsl().select(NEW_EVIDENCE.PERSON_ID, NEW_EVIDENCE.ID, NEW_EVIDENCE.COUNTS_FROM).from(NEW_EVIDENCE)
        .where(NEW_EVIDENCE.PERSON_ID.in(people))
        .forEach(row -> before.get(row.value1()).notes().put(row.value2(), row.value3()));
    return before;
  }

  /**
   * Somebody judged anew.
   *
   * @param progress how they stand
   * @param states the same in the least
   * @param until the moment at which that may change by itself
   */
  record Judged(UUID person, Before before, Progress progress, States states, Instant until) {}

  /** Keeps how somebody stands, unless somebody else has judged them since. */
  void keep(Judged judged) {
    database.transact(dsl -> {
      if (move(dsl, judged)) {
        Instant at = judged.progress().asOf();
        List<Long> done = judged.before().notes().entrySet().stream()
            .filter(note -> !note.getValue().isAfter(at)).map(Map.Entry::getKey).toList();
        if (!done.isEmpty()) {
          dsl.deleteFrom(NEW_EVIDENCE).where(NEW_EVIDENCE.ID.in(done)).execute();
        }
      }
    });
  }

  private boolean move(DSLContext dsl, Judged judged) {
    long version = judged.before().version() + 1;
    Progress progress = judged.progress();
    String body = document(progress.programme()).write(progress);
    KeptProgressRecord row = new KeptProgressRecord();
    row.setPersonId(judged.person());
    row.setVersion(version);
    row.setNumber(nextNumber(dsl));
    row.setEdition(progress.programme().edition());
    row.setBasis(basis);
    row.setJudgedAt(progress.asOf());
    row.setHoldsUntil(judged.until());
    row.setStates(judged.states().letters());
    row.setAhead(judged.states().ahead());
    row.setLastWork(judged.states().lastWork().orElse(null));
    Query summary = judged.before().version() == 0
        ? dsl.insertInto(KEPT_PROGRESS).set(row).onConflictDoNothing()
        : dsl.update(KEPT_PROGRESS).set(row)
            .where(KEPT_PROGRESS.PERSON_ID.eq(judged.person()))
            .and(KEPT_PROGRESS.VERSION.eq(judged.before().version()));
    if (summary.execute() == 0) {
      return false;
    }
    int updated = dsl.update(KEPT_VERDICTS)
        .set(KEPT_VERDICTS.VERSION, version).set(KEPT_VERDICTS.BODY, body)
        .where(KEPT_VERDICTS.PERSON_ID.eq(judged.person())).execute();
    if (updated == 0) {
      dsl.insertInto(KEPT_VERDICTS).values(judged.person(), version, body).execute();
    }
    return true;
  }

  /** A number that is higher than that of whatever was committed before; nobody else gets one until the end of this. */
  private static long nextNumber(DSLContext dsl) {
    dsl.update(KEPT_ORDER).set(KEPT_ORDER.NUMBER, KEPT_ORDER.NUMBER.plus(1)).execute();
    return dsl.select(KEPT_ORDER.NUMBER).from(KEPT_ORDER).fetchSingle(KEPT_ORDER.NUMBER);
  }

  // -- who is to be judged anew

  /** Those about whom something was recorded that counts from this moment or earlier, those of the earliest first. */
  List<UUID> withNewEvidence(Instant upTo, int most) {
    return database.dsl().select(NEW_EVIDENCE.PERSON_ID).from(NEW_EVIDENCE)
        .where(NEW_EVIDENCE.COUNTS_FROM.le(upTo))
        .groupBy(NEW_EVIDENCE.PERSON_ID)
        .orderBy(DSL.min(NEW_EVIDENCE.COUNTS_FROM))
        .limit(most)
        .fetch(NEW_EVIDENCE.PERSON_ID);
  }

  /** Those who may stand otherwise by the passing of time, unless they were judged since a moment. */
  List<UUID> overdue(Instant now, Instant judgedBefore, int most) {
    return database.dsl().select(KEPT_PROGRESS.PERSON_ID).from(KEPT_PROGRESS)
        .where(KEPT_PROGRESS.HOLDS_UNTIL.le(now))
        .and(KEPT_PROGRESS.JUDGED_AT.le(judgedBefore))
        .orderBy(KEPT_PROGRESS.HOLDS_UNTIL)
        .limit(most)
        .fetch(KEPT_PROGRESS.PERSON_ID);
  }

  /**
   * The apprentices who are there on a day, also those of whom it is known when they will leave, and were never judged, or
   * on another basis.
   */
  List<UUID> neverJudged(LocalDate today, int most) {
    return database.dsl().select(PERSON.ID).from(PERSON)
        .leftJoin(KEPT_PROGRESS).on(KEPT_PROGRESS.PERSON_ID.eq(PERSON.ID))
        .where(PERSON.ROLE.eq(Role.APPRENTICE.word()))
        .and(PERSON.LEFT_ON.isNull().or(PERSON.LEFT_ON.gt(today)))
        .and(KEPT_PROGRESS.PERSON_ID.isNull().or(KEPT_PROGRESS.BASIS.ne(basis)))
        .orderBy(PERSON.ID)
        .limit(most)
        .fetch(PERSON.ID);
  }

  /** The members of cohorts of whom what is kept was judged by another edition than their cohort's. */
  List<UUID> onAnotherEdition(String edition, Set<UUID> cohorts, int most) {
    return database.dsl().selectDistinct(KEPT_PROGRESS.PERSON_ID).from(KEPT_PROGRESS)
        .join(COHORT_MEMBER).on(COHORT_MEMBER.PERSON_ID.eq(KEPT_PROGRESS.PERSON_ID))
        .where(COHORT_MEMBER.COHORT_ID.in(cohorts))
        .and(KEPT_PROGRESS.EDITION.ne(edition))
        .limit(most)
        .fetch(KEPT_PROGRESS.PERSON_ID);
  }

  /** The edition that what is kept of each of these people was judged by. */
  Map<UUID, String> editions(Collection<UUID> people) {
    return database.dsl().select(KEPT_PROGRESS.PERSON_ID, KEPT_PROGRESS.EDITION).from(KEPT_PROGRESS)
        .where(KEPT_PROGRESS.PERSON_ID.in(people))
        .fetchMap(KEPT_PROGRESS.PERSON_ID, KEPT_PROGRESS.EDITION);
  }
}

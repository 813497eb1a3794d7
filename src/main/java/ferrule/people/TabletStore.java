package ferrule.people;

import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.TABLET;
import static ferrule.store.jooq.Tables.TABLET_PERSON;
import static ferrule.store.jooq.Tables.WEB_SESSION;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.DSLContext;

/**
 * Tablets that lie on a bench and are used by many. Whoever has signed in on one in full comes back there by PIN.
 *
 * <p>Wrong PINs are counted by tablet and person: somebody who tries another's PIN on one tablet does not keep them from
 * signing, nor from any other tablet. After {@value #TRIES} in a row none is taken there for {@link #PAUSE}, and after
 * {@value #MOST} the person has to sign in there in full once.
 */
public final class TabletStore {

  /** Wrong PINs in a row before none is taken for a while. */
  public static final int TRIES = 5;
  /** How long none is taken then. */
  public static final Duration PAUSE = Duration.ofMinutes(10);
  /** Wrong PINs in a row after which only a full sign-in helps. */
  public static final int MOST = 15;

  private final Database database;
  private final Clock clock;

  TabletStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** A shared tablet, such as "Bench 2". */
  public record Tablet(UUID id, String title, Instant madeAt) {}

  /** What came of a PIN on a tablet. */
  public sealed interface Entry {
    /** It is right. */
    record Right(Person person) implements Entry {}

    /** It is wrong; so many more may be. */
    record Wrong(int triesLeft) implements Entry {}

    /** None is taken there until then. */
    record Wait(Instant until) implements Entry {}

    /** Only a full sign-in lets this person in there. */
    record SignInInFull() implements Entry {}
  }

  /** Makes the device that keeps the returned token a shared tablet. */
  public String make(String title, UUID madeBy) {
    String token = Secrets.token();
    database.dsl().insertInto(TABLET)
        .set(TABLET.ID, UUID.randomUUID())
        .set(TABLET.TITLE, title)
        .set(TABLET.TOKEN_HASH, Secrets.digest(token))
        .set(TABLET.MADE_BY, madeBy)
        .set(TABLET.MADE_AT, clock.instant())
        .execute();
    return token;
  }

  /** The tablet that keeps this token, unless it is one no more. */
  public Optional<Tablet> find(String token) {
    return database.dsl().selectFrom(TABLET)
        .where(TABLET.TOKEN_HASH.eq(Secrets.digest(token))).and(TABLET.CLOSED_AT.isNull())
        .fetchOptional(row -> new Tablet(row.getId(), row.getTitle(), row.getMadeAt()));
  }

  /** The tablets, by title. */
  public List<Tablet> all() {
    return database.dsl().selectFrom(TABLET).where(TABLET.CLOSED_AT.isNull()).orderBy(TABLET.TITLE, TABLET.MADE_AT)
        .fetch(row -> new Tablet(row.getId(), row.getTitle(), row.getMadeAt()));
  }

  /** Ends it: nobody comes in there by PIN any more, and who is signed in there is signed out. */
  public void close(UUID tabletId) {
    database.transact(
        dsl -> {
          dsl.update(TABLET).set(TABLET.CLOSED_AT, clock.instant())
              .where(TABLET.ID.eq(tabletId)).and(TABLET.CLOSED_AT.isNull()).execute();
          dsl.deleteFrom(WEB_SESSION).where(WEB_SESSION.TABLET_ID.eq(tabletId)).execute();
        });
  }

  /** Notes that a person has signed in there in full: they may come back by PIN, and the count starts afresh. */
  public void welcome(UUID tabletId, UUID personId) {
    database.transact(
        dsl -> {
          dsl.insertInto(TABLET_PERSON).set(TABLET_PERSON.TABLET_ID, tabletId).set(TABLET_PERSON.PERSON_ID, personId)
              .onConflictDoNothing().execute();
          count(dsl, at(tabletId, personId), 0, Optional.empty());
        });
  }

  /**
   * Those who may come back there by PIN, by name. A coordinator never does: four digits are too little for who can
   * change everything.
   */
  public List<Person> people(UUID tabletId) {
    return database.dsl().select(PERSON.fields()).from(PERSON)
        .join(TABLET_PERSON).on(TABLET_PERSON.PERSON_ID.eq(PERSON.ID))
        .where(TABLET_PERSON.TABLET_ID.eq(tabletId)).and(mayUsePin())
        .orderBy(PERSON.FULL_NAME, PERSON.ID)
        .fetch(PeopleStore::toPerson);
  }

  private static Condition mayUsePin() {
    return PERSON.PIN_HASH.isNotNull().and(PERSON.LEFT_ON.isNull()).and(PERSON.ROLE.ne(Role.COORDINATOR.word()));
  }

  /** Judges a person's PIN on a tablet. */
  public Entry enter(UUID tabletId, UUID personId, String pin) {
    // the row stays locked while the PIN is compared: two tries at once cannot both be the last one allowed
    return database.inTransaction(dsl -> enter(dsl, tabletId, personId, pin));
  }

  private Entry enter(DSLContext dsl, UUID tabletId, UUID personId, String pin) {
    var there = dsl.selectFrom(TABLET_PERSON).where(at(tabletId, personId)).forUpdate().fetchOne();
    var person = dsl.selectFrom(PERSON).where(PERSON.ID.eq(personId)).and(mayUsePin()).fetchOne();
    if (there == null || person == null || there.getPinFailures() >= MOST) {
      return new Entry.SignInInFull();
    }
    Instant now = clock.instant();
    if (there.getPinLockedUntil() != null && there.getPinLockedUntil().isAfter(now)) {
      return new Entry.Wait(there.getPinLockedUntil());
    }
    if (Secrets.matches(pin, person.getPinHash())) {
      count(dsl, at(tabletId, personId), 0, Optional.empty());
      return new Entry.Right(PeopleStore.toPerson(person));
    }
    int failures = there.getPinFailures() + 1;
    boolean pause = failures % TRIES == 0;
    count(dsl, at(tabletId, personId), failures, Optional.of(now.plus(PAUSE)).filter(until -> pause));
    if (failures >= MOST) {
      return new Entry.SignInInFull();
    }
    return pause ? new Entry.Wait(now.plus(PAUSE)) : new Entry.Wrong(TRIES - failures % TRIES);
  }

  private static Condition at(UUID tabletId, UUID personId) {
    return TABLET_PERSON.TABLET_ID.eq(tabletId).and(TABLET_PERSON.PERSON_ID.eq(personId));
  }

  private static void count(DSLContext dsl, Condition at, int failures, Optional<Instant> lockedUntil) {
    dsl.update(TABLET_PERSON)
        .set(TABLET_PERSON.PIN_FAILURES, failures)
        .set(TABLET_PERSON.PIN_LOCKED_UNTIL, lockedUntil.orElse(null))
        .where(at)
        .execute();
  }

  /** Keeps where a person was on a tablet when it was locked. */
  public void leaveAt(UUID tabletId, UUID personId, String path) {
    database.dsl().update(TABLET_PERSON).set(TABLET_PERSON.LAST_PATH, path).where(at(tabletId, personId)).execute();
  }

  /** Where a person was when they locked a tablet; it is told once. */
  public Optional<String> leftAt(UUID tabletId, UUID personId) {
    return database.inTransaction(
        dsl -> {
          Optional<String> path =
              dsl.select(TABLET_PERSON.LAST_PATH).from(TABLET_PERSON).where(at(tabletId, personId))
                  .fetchOptional(TABLET_PERSON.LAST_PATH);
          dsl.update(TABLET_PERSON).setNull(TABLET_PERSON.LAST_PATH).where(at(tabletId, personId)).execute();
          return path;
        });
  }

  /** Takes a person off a tablet: they come back there by a full sign-in only. */
  public void forget(UUID tabletId, UUID personId) {
    database.dsl().deleteFrom(TABLET_PERSON).where(at(tabletId, personId)).execute();
  }
}

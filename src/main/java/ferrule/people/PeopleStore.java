package ferrule.people;

import static ferrule.store.jooq.Tables.COHORT;
import static ferrule.store.jooq.Tables.COHORT_MEMBER;
import static ferrule.store.jooq.Tables.KNOWN_BROWSER;
import static ferrule.store.jooq.Tables.ONE_TIME_LINK;
import static ferrule.store.jooq.Tables.PASSWORD_WANTED;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.WEB_SESSION;

import ferrule.store.Database;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.exception.DataAccessException;
import org.jooq.exception.IntegrityConstraintViolationException;
import org.jooq.impl.DSL;

/** Accounts, cohorts and sessions in the database. */
public final class PeopleStore {

  /** Wrong PINs in a row before PINs are refused for a while. */
  public static final int PIN_TRIES = 5;
  /** How long PINs are refused then. */
  public static final Duration PIN_LOCK = Duration.ofMinutes(10);

  private static final String INVITATION = "invitation";

  private final Database database;
  private final Clock clock;
  private final SessionStore sessions;
  private final SecondStepStore secondSteps;
  private final SignInStore signIns;
  private final TabletStore tablets;
  private final PasskeyStore passkeys;
  private final SchoolStore schools;

  /** A store over this database that takes the time from this clock. */
  public PeopleStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
    this.sessions = new SessionStore(database, clock);
    this.secondSteps = new SecondStepStore(database, clock);
    this.signIns = new SignInStore(database, clock, secondSteps);
    this.tablets = new TabletStore(database, clock);
    this.passkeys = new PasskeyStore(database, clock);
    this.schools = new SchoolStore(database, clock);
  }

  /** Who is signed in where. */
  public SessionStore sessions() {
    return sessions;
  }

  /** Names and passwords at the door. */
  public SignInStore signIns() {
    return signIns;
  }

  /** Accounts with the school. */
  public SchoolStore schools() {
    return schools;
  }

  /** Passkeys. */
  public PasskeyStore passkeys() {
    return passkeys;
  }

  /** Tablets that many use. */
  public TabletStore tablets() {
    return tablets;
  }

  /** One-time codes. */
  public SecondStepStore secondSteps() {
    return secondSteps;
  }

  /** Adds a person; without a password they cannot sign in. Sign-in names are compared without regard to case. */
  public void add(Person person, Optional<String> password, Optional<String> pin) {
    add(database.dsl(), person, password.map(Secrets::hash), pin.map(Secrets::hash));
  }

  /** Adds an invented person, who counts as having an account, with a password that nobody knows. */
  public void addInvented(Person person) {
    add(database.dsl(), person, Optional.of(Secrets.unknown()), Optional.empty());
  }

  private void add(DSLContext dsl, Person person, Optional<String> passwordHash, Optional<String> pinHash) {
    dsl.insertInto(PERSON)
        .set(PERSON.ID, person.id())
        .set(PERSON.SIGN_IN_NAME, folded(person.signInName()))
        .set(PERSON.FULL_NAME, person.fullName())
        .set(PERSON.ROLE, person.role().word())
        .set(PERSON.PASSWORD_HASH, passwordHash.orElse(null))
        .set(PERSON.PIN_HASH, pinHash.orElse(null))
        .set(PERSON.CREATED_AT, clock.instant())
        .set(PERSON.LEFT_ON, person.leftOn().orElse(null))
        .execute();
  }

  /** A sign-in name in the form in which it is kept and compared: without space around it, in small letters. */
  public static String folded(String signInName) {
    return signInName.strip().toLowerCase(Locale.ROOT);
  }

  /**
   * Adds persons, who cannot sign in before they are invited, and puts them into a cohort if one is named: all of them
   * or, if anything fails, none.
   */
  public void enrol(List<Person> persons, Optional<UUID> cohortId, LocalDate joinedOn) {
    database.transact(
        dsl ->
            persons.forEach(
                person -> {
                  add(dsl, person, Optional.empty(), Optional.empty());
                  cohortId.ifPresent(cohort -> join(dsl, cohort, person.id(), joinedOn, Optional.empty()));
                }));
  }

  /**
   * Brings people in, some of them new, all or none.
   *
   * @return false, with nothing changed, if somebody else has given a sign-in name away or put one of them into the cohort
   *     in the meantime
   */
  public boolean enrol(List<Enrolment> enrolments, LocalDate joinedOn) {
    try {
      database.transact(
          dsl ->
              enrolments.forEach(
                  e -> {
                    if (e.isNew()) {
                      add(dsl, e.person(), Optional.empty(), Optional.empty());
                    }
                    e.cohort().ifPresent(cohort -> join(dsl, cohort, e.person().id(), joinedOn, Optional.empty()));
                  }));
      return true;
    } catch (IntegrityConstraintViolationException e) {
      return false;
    }
  }

  /** Of these sign-in names, those that are taken, in the form in which they are kept. */
  public Set<String> taken(Collection<String> signInNames) {
    List<String> asked = signInNames.stream().map(PeopleStore::folded).toList();
    return Set.copyOf(
        database.dsl().select(PERSON.SIGN_IN_NAME).from(PERSON).where(PERSON.SIGN_IN_NAME.in(asked))
            .fetch(PERSON.SIGN_IN_NAME));
  }

  /** Those who have an account but no password yet: they have not come in by an invitation. */
  public Set<UUID> notYetIn() {
    return Set.copyOf(
        database.dsl().select(PERSON.ID).from(PERSON).where(PERSON.PASSWORD_HASH.isNull()).fetch(PERSON.ID));
  }

  /**
   * Notes that a person has left the programme on this day, and closes their sessions; what they did stays on record.
   */
  public void leave(UUID personId, LocalDate day) {
    database.transact(dsl -> leave(dsl, personId, day));
  }

  /** The same, in the caller's transaction. */
  public static void leave(DSLContext dsl, UUID personId, LocalDate day) {
    dsl.update(PERSON).set(PERSON.LEFT_ON, day).where(PERSON.ID.eq(personId)).execute();
    dsl.update(COHORT_MEMBER).set(COHORT_MEMBER.LEFT_ON, day)
        .where(COHORT_MEMBER.PERSON_ID.eq(personId)).and(COHORT_MEMBER.LEFT_ON.isNull()).execute();
    dsl.deleteFrom(WEB_SESSION).where(WEB_SESSION.PERSON_ID.eq(personId)).execute();
  }

  /** Those who stand under a pseudonym alone. */
  public Set<UUID> erased() {
    return Set.copyOf(
        database.dsl().select(PERSON.ID).from(PERSON).where(PERSON.ERASED_AT.isNotNull()).fetch(PERSON.ID));
  }

  /**
   * Takes back that a person has left, in the cohorts that they left on that day too.
   *
   * @throws IllegalArgumentException if they were erased
   */
  public void comeBack(UUID personId) {
    database.transact(
        dsl -> {
          if (dsl.fetchExists(PERSON, PERSON.ID.eq(personId).and(PERSON.ERASED_AT.isNotNull()))) {
            throw new IllegalArgumentException("nobody comes back who was erased");
          }
          LocalDate day = dsl.select(PERSON.LEFT_ON).from(PERSON).where(PERSON.ID.eq(personId)).fetchSingle().value1();
          dsl.update(PERSON).setNull(PERSON.LEFT_ON).where(PERSON.ID.eq(personId)).execute();
          dsl.update(COHORT_MEMBER).setNull(COHORT_MEMBER.LEFT_ON)
              .where(COHORT_MEMBER.PERSON_ID.eq(personId)).and(COHORT_MEMBER.LEFT_ON.eq(day)).execute();
        });
  }

  /** The person with this id, if there is one. */
  public Optional<Person> person(UUID id) {
    return database.dsl().selectFrom(PERSON).where(PERSON.ID.eq(id)).fetchOptional(PeopleStore::toPerson);
  }

  /** Everyone in this role, those who left too, by name. */
  public List<Person> inRole(Role role) {
    return database
        .dsl()
        .selectFrom(PERSON)
        .where(PERSON.ROLE.eq(role.word()))
        .orderBy(PERSON.FULL_NAME, PERSON.ID)
        .fetch(PeopleStore::toPerson);
  }

  /** Whether nobody has an account yet. */
  public boolean isEmpty() {
    return !database.dsl().fetchExists(PERSON);
  }

  /** Adds a cohort. */
  public void add(Cohort cohort) {
    database
        .dsl()
        .insertInto(COHORT)
        .set(COHORT.ID, cohort.id())
        .set(COHORT.TITLE, cohort.title())
        .set(COHORT.EDITION, cohort.edition())
        .set(COHORT.STARTS_ON, cohort.startsOn())
        .set(COHORT.ENDS_ON, cohort.endsOn())
        .execute();
  }

  /** The cohorts, the latest first. */
  public List<Cohort> cohorts() {
    return database.dsl().selectFrom(COHORT).orderBy(COHORT.STARTS_ON.desc(), COHORT.TITLE).fetch(PeopleStore::toCohort);
  }

  /** The cohort with this id, if there is one. */
  public Optional<Cohort> cohort(UUID id) {
    return database.dsl().selectFrom(COHORT).where(COHORT.ID.eq(id)).fetchOptional(PeopleStore::toCohort);
  }

  /** Puts a person into a cohort from this day on. */
  public void join(UUID cohortId, UUID personId, LocalDate joinedOn, Optional<LocalDate> leftOn) {
    join(database.dsl(), cohortId, personId, joinedOn, leftOn);
  }

  private static void join(
      DSLContext dsl, UUID cohortId, UUID personId, LocalDate joinedOn, Optional<LocalDate> leftOn) {
    dsl.insertInto(COHORT_MEMBER)
        .set(COHORT_MEMBER.COHORT_ID, cohortId)
        .set(COHORT_MEMBER.PERSON_ID, personId)
        .set(COHORT_MEMBER.JOINED_ON, joinedOn)
        .set(COHORT_MEMBER.LEFT_ON, leftOn.orElse(null))
        .execute();
  }

  /** Those who are in a cohort and have not left it, by name. */
  public List<Person> members(UUID cohortId) {
    return members(cohortId, false);
  }

  /** Those who are or were in a cohort, by name. */
  public List<Person> membersEver(UUID cohortId) {
    return members(cohortId, true);
  }

  /** Those who are or were in a cohort, by name, with the days on which they came and left. */
  public List<Member> roster(UUID cohortId) {
    return rosters(COHORT_MEMBER.COHORT_ID.eq(cohortId)).getOrDefault(cohortId, List.of());
  }

  /** The same of every cohort in which anybody is or was. */
  public Map<UUID, List<Member>> rosters() {
    return rosters(DSL.noCondition());
  }

  private Map<UUID, List<Member>> rosters(Condition which) {
    Map<UUID, List<Member>> rosters = new HashMap<>();
    // as rows of the driver: a record of jOOQ for each of ten thousand takes longer than the query
    try (ResultSet found = database
        .dsl()
        .select(PERSON.ID, PERSON.SIGN_IN_NAME, PERSON.FULL_NAME, PERSON.ROLE, PERSON.LEFT_ON)
        .select(COHORT_MEMBER.COHORT_ID, COHORT_MEMBER.JOINED_ON, COHORT_MEMBER.LEFT_ON)
        .from(PERSON)
        .join(COHORT_MEMBER)
        .on(COHORT_MEMBER.PERSON_ID.eq(PERSON.ID))
        .where(which)
        .orderBy(PERSON.FULL_NAME, PERSON.ID)
        .fetchResultSet()) {
      while (found.next()) {
        rosters.computeIfAbsent(found.getObject(6, UUID.class), c -> new ArrayList<>()).add(toMember(found));
      }
      return rosters;
    } catch (SQLException e) {
      throw new DataAccessException("the members of cohorts could not be read", e);
    }
  }

  private static Member toMember(ResultSet row) throws SQLException {
    Optional<LocalDate> left = Optional.ofNullable(row.getObject(5, LocalDate.class));
    Person person = new Person(
        row.getObject(1, UUID.class), row.getString(2), row.getString(3), Role.parse(row.getString(4)), left);
    return new Member(
        person, row.getObject(7, LocalDate.class),
        Stream.of(Optional.ofNullable(row.getObject(8, LocalDate.class)), left)
            .flatMap(Optional::stream).min(Comparator.naturalOrder()));
  }

  private List<Person> members(UUID cohortId, boolean leaversToo) {
    var there = COHORT_MEMBER.COHORT_ID.eq(cohortId);
    return database
        .dsl()
        .select(PERSON.fields())
        .from(PERSON)
        .join(COHORT_MEMBER)
        .on(COHORT_MEMBER.PERSON_ID.eq(PERSON.ID))
        .where(leaversToo ? there : there.and(COHORT_MEMBER.LEFT_ON.isNull()).and(PERSON.LEFT_ON.isNull()))
        .orderBy(PERSON.FULL_NAME, PERSON.ID)
        .fetch(PeopleStore::toPerson);
  }

  /** Who is or was in a cohort, and from when to when. */
  public List<Membership> memberships(UUID cohortId) {
    return database
        .dsl()
        .select(PERSON.ID, PERSON.ROLE, COHORT_MEMBER.JOINED_ON, COHORT_MEMBER.LEFT_ON, PERSON.LEFT_ON)
        .from(COHORT_MEMBER)
        .join(PERSON)
        .on(PERSON.ID.eq(COHORT_MEMBER.PERSON_ID))
        .where(COHORT_MEMBER.COHORT_ID.eq(cohortId))
        .orderBy(PERSON.ID)
        .fetch(
            row -> new Membership(
                row.value1(), Role.parse(row.value2()), row.value3(),
                Stream.of(Optional.ofNullable(row.value4()), Optional.ofNullable(row.value5()))
                    .flatMap(Optional::stream).min(Comparator.naturalOrder())));
  }

  /** The cohorts that a person is in, the latest first. */
  public List<Cohort> cohortsOf(UUID personId) {
    return database
        .dsl()
        .select(COHORT.fields())
        .from(COHORT)
        .join(COHORT_MEMBER)
        .on(COHORT_MEMBER.COHORT_ID.eq(COHORT.ID))
        .where(COHORT_MEMBER.PERSON_ID.eq(personId).and(COHORT_MEMBER.LEFT_ON.isNull()))
        .orderBy(COHORT.STARTS_ON.desc(), COHORT.TITLE)
        .fetch(PeopleStore::toCohort);
  }

  /**
   * Checks a PIN at the moment of signing. After {@link #PIN_TRIES} wrong ones in a row no PIN is taken for
   * {@link #PIN_LOCK}; a right one starts the count afresh.
   */
  public Presence provePresence(UUID personId, String pin) {
    // the row stays locked while the PIN is compared: two tries at once cannot both be the last one allowed
    return database.inTransaction(dsl -> provePresence(dsl, personId, pin));
  }

  private Presence provePresence(DSLContext dsl, UUID personId, String pin) {
    var row = dsl.selectFrom(PERSON).where(PERSON.ID.eq(personId)).forUpdate().fetchSingle();
    Instant now = clock.instant();
    if (row.getPinHash() == null) {
      return new Presence.NoPin();
    }
    if (row.getPinLockedUntil() != null && row.getPinLockedUntil().isAfter(now)) {
      return new Presence.Locked(row.getPinLockedUntil());
    }
    if (Secrets.matches(pin, row.getPinHash())) {
      setPinState(dsl, personId, 0, Optional.empty());
      return new Presence.Proven();
    }
    int failures = row.getPinFailures() + 1;
    if (failures >= PIN_TRIES) {
      Instant until = now.plus(PIN_LOCK);
      setPinState(dsl, personId, 0, Optional.of(until));
      return new Presence.Locked(until);
    }
    setPinState(dsl, personId, failures, Optional.empty());
    return new Presence.Wrong(PIN_TRIES - failures);
  }

  private static void setPinState(DSLContext dsl, UUID personId, int failures, Optional<Instant> lockedUntil) {
    dsl.update(PERSON)
        .set(PERSON.PIN_FAILURES, failures)
        .set(PERSON.PIN_LOCKED_UNTIL, lockedUntil.orElse(null))
        .where(PERSON.ID.eq(personId))
        .execute();
  }

  /** Sets a person's password in place of the earlier one; sessions that are open stay so. */
  public void setPassword(UUID personId, String password) {
    String hash = Secrets.hash(password);
    database.dsl().update(PERSON).set(PERSON.PASSWORD_HASH, hash).where(PERSON.ID.eq(personId)).execute();
  }

  /** Sets a person's PIN in place of any earlier one. */
  public void setPin(UUID personId, String pin) {
    database
        .dsl()
        .update(PERSON)
        .set(PERSON.PIN_HASH, Secrets.hash(pin))
        .set(PERSON.PIN_FAILURES, 0)
        .setNull(PERSON.PIN_LOCKED_UNTIL)
        .where(PERSON.ID.eq(personId))
        .execute();
  }

  /** Whether a person has set a PIN. */
  public boolean hasPin(UUID personId) {
    return database.dsl().fetchExists(PERSON, PERSON.ID.eq(personId).and(PERSON.PIN_HASH.isNotNull()));
  }

  /** Makes a link that works once, for this purpose and this long; returns its token. */
  public String oneTimeLink(String purpose, Duration validFor) {
    return oneTimeLink(purpose, Optional.empty(), validFor);
  }

  /** Makes an invitation by which a person chooses their password, once, within this time; returns its token. */
  public String invite(UUID personId, Duration validFor) {
    return oneTimeLink(INVITATION, Optional.of(personId), validFor);
  }

  /** Whom an invitation that would still work is for. */
  public Optional<Person> invited(String token) {
    return database
        .dsl()
        .select(PERSON.fields())
        .from(ONE_TIME_LINK)
        .join(PERSON)
        .on(PERSON.ID.eq(ONE_TIME_LINK.PERSON_ID))
        .where(usable(INVITATION, token))
        .and(PERSON.LEFT_ON.isNull())
        .fetchOptional(PeopleStore::toPerson);
  }

  /**
   * Uses an invitation up and sets the password of the person that it is for, both or neither. Whoever knew an earlier
   * password is signed out everywhere, and their browsers count as unknown.
   *
   * @return who it was; empty, with nothing changed, if it has been used, has expired or never was
   */
  public Optional<Person> accept(String token, String password) {
    return database.inTransaction(
        dsl -> {
          Optional<Person> person = invited(token);
          int used =
              dsl.update(ONE_TIME_LINK).set(ONE_TIME_LINK.USED_AT, clock.instant()).where(usable(INVITATION, token))
                  .execute();
          if (person.isEmpty() || used != 1) {
            return Optional.empty();
          }
          UUID id = person.get().id();
          dsl.update(PERSON).set(PERSON.PASSWORD_HASH, Secrets.hash(password)).where(PERSON.ID.eq(id)).execute();
          dsl.deleteFrom(WEB_SESSION).where(WEB_SESSION.PERSON_ID.eq(id)).execute();
          dsl.deleteFrom(KNOWN_BROWSER).where(KNOWN_BROWSER.PERSON_ID.eq(id)).execute();
          dsl.deleteFrom(PASSWORD_WANTED).where(PASSWORD_WANTED.PERSON_ID.eq(id)).execute();
          return person;
        });
  }

  private String oneTimeLink(String purpose, Optional<UUID> personId, Duration validFor) {
    String token = Secrets.token();
    Instant now = clock.instant();
    database
        .dsl()
        .insertInto(ONE_TIME_LINK)
        .set(ONE_TIME_LINK.TOKEN_HASH, Secrets.digest(token))
        .set(ONE_TIME_LINK.PURPOSE, purpose)
        .set(ONE_TIME_LINK.PERSON_ID, personId.orElse(null))
        .set(ONE_TIME_LINK.CREATED_AT, now)
        .set(ONE_TIME_LINK.EXPIRES_AT, now.plus(validFor))
        .execute();
    return token;
  }

  /** Whether a link for this purpose would still work. */
  public boolean isOpen(String purpose, String token) {
    return database.dsl().fetchExists(ONE_TIME_LINK, usable(purpose, token));
  }

  /**
   * Uses a link up and adds the person that it was made for, both or neither.
   *
   * @return false, with nothing changed, if the link has been used, has expired or never was
   */
  public boolean addByLink(String purpose, String token, Person person, String password) {
    return database.inTransaction(
        dsl -> {
          int used = dsl.update(ONE_TIME_LINK).set(ONE_TIME_LINK.USED_AT, clock.instant())
              .where(usable(purpose, token)).execute();
          if (used == 1) {
            add(dsl, person, Optional.of(Secrets.hash(password)), Optional.empty());
          }
          return used == 1;
        });
  }

  private Condition usable(String purpose, String token) {
    return ONE_TIME_LINK.TOKEN_HASH.eq(Secrets.digest(token))
        .and(ONE_TIME_LINK.PURPOSE.eq(purpose))
        .and(ONE_TIME_LINK.USED_AT.isNull())
        .and(ONE_TIME_LINK.EXPIRES_AT.gt(clock.instant()));
  }

  static Person toPerson(Record row) {
    return new Person(
        row.get(PERSON.ID),
        row.get(PERSON.SIGN_IN_NAME),
        row.get(PERSON.FULL_NAME),
        Role.parse(row.get(PERSON.ROLE)),
        Optional.ofNullable(row.get(PERSON.LEFT_ON)));
  }

  private static Cohort toCohort(Record row) {
    return new Cohort(
        row.get(COHORT.ID),
        row.get(COHORT.TITLE),
        row.get(COHORT.EDITION),
        row.get(COHORT.STARTS_ON),
        row.get(COHORT.ENDS_ON));
  }
}

package ferrule.people;

import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.WEB_SESSION;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Record;

/**
 * Sessions: who is signed in where. Of a session's token only a hash is kept, and a new proof of who somebody is always
 * opens a new session with a new token.
 */
public final class SessionStore {

  /** However much it is used, a session ends after this. */
  public static final Duration LONGEST = Duration.ofDays(7);
  /** How long somebody whose password was right has for the next step. */
  public static final Duration NEXT_STEP = Duration.ofMinutes(10);

  private static final String CODE = "code";
  private static final Duration SEEN_STEP = Duration.ofMinutes(1);

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public SessionStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** Opens a session for a person who proved who they are; returns its token, for the cookie. */
  public String open(UUID personId, Opening opening) {
    return open(personId, opening, Optional.empty());
  }

  /**
   * Notes that a person's password was right while a one-time code is still asked for; nothing is open yet.
   *
   * @return the token by which {@link #awaitingCode} knows them, for the cookie
   */
  public String awaitCode(UUID personId, Opening opening) {
    return open(personId, opening, Optional.of(CODE));
  }

  private String open(UUID personId, Opening opening, Optional<String> awaits) {
    String token = Secrets.token();
    Instant now = clock.instant();
    database.dsl().deleteFrom(WEB_SESSION)
        .where(WEB_SESSION.PERSON_ID.eq(personId)).and(WEB_SESSION.EXPIRES_AT.le(now)).execute();
    database
        .dsl()
        .insertInto(WEB_SESSION)
        .set(WEB_SESSION.TOKEN_HASH, Secrets.digest(token))
        .set(WEB_SESSION.PERSON_ID, personId)
        .set(WEB_SESSION.CSRF_TOKEN, Secrets.token())
        .set(WEB_SESSION.CREATED_AT, now)
        .set(WEB_SESSION.LAST_SEEN_AT, now)
        .set(WEB_SESSION.EXPIRES_AT, now.plus(awaits.isPresent() ? NEXT_STEP : opening.idle()))
        .set(WEB_SESSION.OPENED_BY, opening.how().stored())
        .set(WEB_SESSION.DEVICE, opening.device())
        .set(WEB_SESSION.IDLE_SECONDS, (int) opening.idle().toSeconds())
        .set(WEB_SESSION.TABLET_ID, opening.tablet().orElse(null))
        .set(WEB_SESSION.AWAITS, awaits.orElse(null))
        .execute();
    return token;
  }

  /** Who has the open session with this token; using a session keeps it open. */
  public Optional<SignedIn> find(String token) {
    return find(token, WEB_SESSION.AWAITS.isNull());
  }

  /** Whose password was right, and how they came, while a code is still asked for. */
  public Optional<SignedIn> awaitingCode(String token) {
    return find(token, WEB_SESSION.AWAITS.eq(CODE));
  }

  private Optional<SignedIn> find(String token, Condition stage) {
    String hash = Secrets.digest(token);
    Instant now = clock.instant();
    Record row =
        database
            .dsl()
            .select(PERSON.ID, PERSON.SIGN_IN_NAME, PERSON.FULL_NAME, PERSON.ROLE, PERSON.LEFT_ON)
            .select(WEB_SESSION.CSRF_TOKEN, WEB_SESSION.CREATED_AT, WEB_SESSION.LAST_SEEN_AT, WEB_SESSION.AWAITS)
            .select(WEB_SESSION.OPENED_BY, WEB_SESSION.DEVICE, WEB_SESSION.IDLE_SECONDS, WEB_SESSION.TABLET_ID)
            .from(WEB_SESSION)
            .join(PERSON)
            .on(PERSON.ID.eq(WEB_SESSION.PERSON_ID))
            .where(WEB_SESSION.TOKEN_HASH.eq(hash))
            .and(isOpen(now))
            .and(stage)
            .and(PERSON.LEFT_ON.isNull())
            .fetchOne();
    if (row == null) {
      return Optional.empty();
    }
    Opening opening = toOpening(row);
    if (row.get(WEB_SESSION.AWAITS) == null && row.get(WEB_SESSION.LAST_SEEN_AT).isBefore(now.minus(seenStep(opening)))) {
      keepOpen(hash, now, opening.idle());
    }
    return Optional.of(
        new SignedIn(
            PeopleStore.toPerson(row), row.get(WEB_SESSION.CSRF_TOKEN), hash, opening,
            row.get(WEB_SESSION.CREATED_AT)));
  }

  private static Condition isOpen(Instant now) {
    return WEB_SESSION.EXPIRES_AT.gt(now).and(WEB_SESSION.CREATED_AT.gt(now.minus(LONGEST)));
  }

  // writing at every request would cost more than it tells; on a tablet a minute is a third of all its time
  private static Duration seenStep(Opening opening) {
    Duration tenth = opening.idle().dividedBy(20);
    return tenth.compareTo(SEEN_STEP) < 0 ? tenth : SEEN_STEP;
  }

  private void keepOpen(String hash, Instant now, Duration idle) {
    database
        .dsl()
        .update(WEB_SESSION)
        .set(WEB_SESSION.LAST_SEEN_AT, now)
        .set(WEB_SESSION.EXPIRES_AT, now.plus(idle))
        .where(WEB_SESSION.TOKEN_HASH.eq(hash))
        .execute();
  }

  /** A person's open sessions, the one used last first. */
  public List<OpenSession> of(UUID personId) {
    return database
        .dsl()
        .selectFrom(WEB_SESSION)
        .where(WEB_SESSION.PERSON_ID.eq(personId))
        .and(isOpen(clock.instant()))
        .and(WEB_SESSION.AWAITS.isNull())
        .orderBy(WEB_SESSION.LAST_SEEN_AT.desc(), WEB_SESSION.CREATED_AT.desc(), WEB_SESSION.TOKEN_HASH)
        .fetch(row -> new OpenSession(row.getTokenHash(), toOpening(row), row.getCreatedAt(), row.getLastSeenAt()));
  }

  /** Closes a session, or one that still waits; does nothing if it is closed already. */
  public void close(SignedIn session) {
    close(session.person().id(), session.sessionHash());
  }

  /** Closes that one of a person's sessions that has this hash; does nothing if none has. */
  public void close(UUID personId, String hash) {
    database.dsl().deleteFrom(WEB_SESSION)
        .where(WEB_SESSION.TOKEN_HASH.eq(hash)).and(WEB_SESSION.PERSON_ID.eq(personId)).execute();
  }

  /** Closes all of a person's sessions but this one; returns how many were open. */
  public int closeOthers(SignedIn session) {
    return database.dsl().deleteFrom(WEB_SESSION)
        .where(WEB_SESSION.PERSON_ID.eq(session.person().id()))
        .and(WEB_SESSION.TOKEN_HASH.ne(session.sessionHash())).execute();
  }

  /** Closes all of a person's sessions. */
  public void closeAll(UUID personId) {
    database.dsl().deleteFrom(WEB_SESSION).where(WEB_SESSION.PERSON_ID.eq(personId)).execute();
  }

  private static Opening toOpening(Record row) {
    return new Opening(
        Opening.How.parse(row.get(WEB_SESSION.OPENED_BY)),
        row.get(WEB_SESSION.DEVICE),
        Duration.ofSeconds(row.get(WEB_SESSION.IDLE_SECONDS)),
        Optional.ofNullable(row.get(WEB_SESSION.TABLET_ID)));
  }
}

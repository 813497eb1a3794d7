package ferrule.people;

import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.SCHOOL_IDENTITY;
import static ferrule.store.jooq.Tables.SCHOOL_REQUEST;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** Which account with the school leads to which person, and the ways to the provider that are under way. */
public final class SchoolStore {

  /** How long somebody may take at the provider. */
  public static final Duration WAY = Duration.ofMinutes(15);

  private final Database database;
  private final Clock clock;

  SchoolStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * A way that has come back.
   *
   * @param connects the person who connects their account; empty where somebody comes in
   * @param then where it goes on to
   */
  public record Way(SchoolDesk.Request request, Optional<UUID> connects, String then) {}

  /** Keeps a way that begins. */
  public void begin(Way way) {
    Instant now = clock.instant();
    database.dsl().deleteFrom(SCHOOL_REQUEST).where(SCHOOL_REQUEST.EXPIRES_AT.lt(now)).execute();
    database.dsl().insertInto(SCHOOL_REQUEST)
        .set(SCHOOL_REQUEST.STATE_HASH, Secrets.digest(way.request().state()))
        .set(SCHOOL_REQUEST.NONCE, way.request().nonce())
        .set(SCHOOL_REQUEST.VERIFIER, way.request().verifier())
        .set(SCHOOL_REQUEST.PERSON_ID, way.connects().orElse(null))
        .set(SCHOOL_REQUEST.THEN_PATH, way.then())
        .set(SCHOOL_REQUEST.EXPIRES_AT, now.plus(WAY))
        .execute();
  }

  /** The way that began with this state; it comes back once. */
  public Optional<Way> comeBack(String state) {
    return database.inTransaction(
        dsl -> {
          var row = dsl.selectFrom(SCHOOL_REQUEST)
              .where(SCHOOL_REQUEST.STATE_HASH.eq(Secrets.digest(state)))
              .and(SCHOOL_REQUEST.EXPIRES_AT.gt(clock.instant())).forUpdate().fetchOne();
          if (row == null) {
            return Optional.empty();
          }
          row.delete();
          return Optional.of(
              new Way(
                  new SchoolDesk.Request(state, row.getNonce(), row.getVerifier()),
                  Optional.ofNullable(row.getPersonId()), row.getThenPath()));
        });
  }

  /**
   * Whom an account with the school leads to: the person who connected it, or where a name is told, whoever signs in
   * under that name here and has connected no other, who is connected then.
   */
  public Optional<Person> person(SchoolDesk.Identity identity) {
    Optional<Person> connected =
        database.dsl().select(PERSON.fields()).from(PERSON)
            .join(SCHOOL_IDENTITY).on(SCHOOL_IDENTITY.PERSON_ID.eq(PERSON.ID))
            .where(SCHOOL_IDENTITY.ISSUER.eq(identity.issuer())).and(SCHOOL_IDENTITY.SUBJECT.eq(identity.subject()))
            .fetchOptional(PeopleStore::toPerson);
    return connected.or(() -> identity.name().flatMap(name -> connectByName(identity, name)))
        .filter(Person::isPresent);
  }

  private Optional<Person> connectByName(SchoolDesk.Identity identity, String name) {
    Optional<Person> named =
        database.dsl().selectFrom(PERSON)
            .where(PERSON.SIGN_IN_NAME.eq(PeopleStore.folded(name))).and(PERSON.LEFT_ON.isNull())
            .fetchOptional(PeopleStore::toPerson);
    return named.filter(p -> !isConnected(p.id())).filter(p -> connect(p.id(), identity));
  }

  /** Connects an account with the school; false if it leads to somebody already. */
  public boolean connect(UUID personId, SchoolDesk.Identity identity) {
    return database.dsl().insertInto(SCHOOL_IDENTITY)
            .set(SCHOOL_IDENTITY.ISSUER, identity.issuer())
            .set(SCHOOL_IDENTITY.SUBJECT, identity.subject())
            .set(SCHOOL_IDENTITY.PERSON_ID, personId)
            .set(SCHOOL_IDENTITY.LINKED_AT, clock.instant())
            .onConflictDoNothing()
            .execute() == 1;
  }

  /** Whether a person has connected an account with the school. */
  public boolean isConnected(UUID personId) {
    return database.dsl().fetchExists(SCHOOL_IDENTITY, SCHOOL_IDENTITY.PERSON_ID.eq(personId));
  }

  /** Disconnects a person from their account with the school. */
  public void disconnect(UUID personId) {
    database.dsl().deleteFrom(SCHOOL_IDENTITY).where(SCHOOL_IDENTITY.PERSON_ID.eq(personId)).execute();
  }
}

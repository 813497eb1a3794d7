package ferrule.people;

import static ferrule.store.jooq.Tables.ONE_TIME_LINK;
import static ferrule.store.jooq.Tables.PASSKEY;
import static ferrule.store.jooq.Tables.PERSON;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Record;

/** Passkeys: making one, coming in with one, and proving presence with one. Each challenge is random and counts once. */
public final class PasskeyStore {

  /** How long a browser has to answer. */
  public static final Duration ANSWER = Duration.ofMinutes(5);

  private final Database database;
  private final Clock clock;

  PasskeyStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** What a challenge is for: an answer to one counts for nothing else. */
  private enum Purpose {
    MAKE("passkey-make"), ENTER("passkey-enter"), PRESENCE("passkey-presence");

    private final String word;

    Purpose(String word) {
      this.word = word;
    }
  }

  /**
   * A passkey as its owner sees it.
   *
   * @param usedAt when it was last used, if it was
   */
  public record Listed(String id, String title, Instant madeAt, Optional<Instant> usedAt) {}

  /** A challenge for a new passkey of this person, in base64url. */
  public String challengeToMake(UUID personId) {
    return challenge(Purpose.MAKE, Optional.of(personId));
  }

  /** A challenge for whoever wants to come in. */
  public String challengeToEnter() {
    return challenge(Purpose.ENTER, Optional.empty());
  }

  /** A challenge for a person who is to show that they are there. */
  public String challengeOfPresence(UUID personId) {
    return challenge(Purpose.PRESENCE, Optional.of(personId));
  }

  private String challenge(Purpose purpose, Optional<UUID> personId) {
    String challenge = Secrets.token();
    Instant now = clock.instant();
    database.dsl().deleteFrom(ONE_TIME_LINK)
        .where(ONE_TIME_LINK.PURPOSE.eq(purpose.word)).and(ONE_TIME_LINK.EXPIRES_AT.lt(now)).execute();
    database.dsl().insertInto(ONE_TIME_LINK)
        .set(ONE_TIME_LINK.TOKEN_HASH, Secrets.digest(challenge))
        .set(ONE_TIME_LINK.PURPOSE, purpose.word)
        .set(ONE_TIME_LINK.PERSON_ID, personId.orElse(null))
        .set(ONE_TIME_LINK.CREATED_AT, now)
        .set(ONE_TIME_LINK.EXPIRES_AT, now.plus(ANSWER))
        .execute();
    return challenge;
  }

  private boolean use(Purpose purpose, Optional<UUID> personId, String challenge) {
    Condition whose = personId.map(ONE_TIME_LINK.PERSON_ID::eq).orElse(ONE_TIME_LINK.PERSON_ID.isNull());
    return database.dsl().update(ONE_TIME_LINK).set(ONE_TIME_LINK.USED_AT, clock.instant())
            .where(ONE_TIME_LINK.TOKEN_HASH.eq(Secrets.digest(challenge)))
            .and(ONE_TIME_LINK.PURPOSE.eq(purpose.word)).and(whose)
            .and(ONE_TIME_LINK.USED_AT.isNull()).and(ONE_TIME_LINK.EXPIRES_AT.gt(clock.instant()))
            .execute() == 1;
  }

  /**
   * Keeps a new passkey.
   *
   * @param json what the browser answered
   * @param title by which its owner knows it, at most 80 characters
   * @return false, with nothing kept, if the answer is not to a challenge of this person's or does not hold
   */
  public boolean make(UUID personId, String json, String title, PasskeyPlace place) {
    Optional<Passkeys.Key> key =
        Passkeys.challengeOf(json, true)
            .filter(challenge -> use(Purpose.MAKE, Optional.of(personId), challenge))
            .flatMap(challenge -> Passkeys.register(json, place, challenge));
    return key.isPresent()
        && database.dsl().insertInto(PASSKEY)
                .set(PASSKEY.CREDENTIAL_ID, key.get().id())
                .set(PASSKEY.PERSON_ID, personId)
                .set(PASSKEY.TITLE, title)
                .set(PASSKEY.KEY_DATA, key.get().data())
                .set(PASSKEY.BACKUP_ABLE, key.get().backupAble())
                .set(PASSKEY.SIGN_COUNT, key.get().count())
                .set(PASSKEY.HOST, place.host())
                .set(PASSKEY.MADE_AT, clock.instant())
                .onConflictDoNothing()
                .execute() == 1;
  }

  /** Who comes in by this answer; empty if it does not hold, its key is not known here, or its owner has left. */
  public Optional<Person> enter(String json, PasskeyPlace place) {
    return Passkeys.challengeOf(json, false)
        .filter(challenge -> use(Purpose.ENTER, Optional.empty(), challenge))
        .flatMap(challenge -> owner(json, place, challenge));
  }

  /** Whether this answer shows that this person is there at this moment. */
  public Presence provePresence(UUID personId, String json, PasskeyPlace place) {
    return Passkeys.challengeOf(json, false)
        .filter(challenge -> use(Purpose.PRESENCE, Optional.of(personId), challenge))
        .flatMap(challenge -> owner(json, place, challenge))
        .filter(owner -> owner.id().equals(personId))
        .<Presence>map(owner -> new Presence.Proven())
        .orElseGet(Presence.NotByThisKey::new);
  }

  private Optional<Person> owner(String json, PasskeyPlace place, String challenge) {
    return database.inTransaction(
        dsl -> {
          Record row = dsl.select(PERSON.fields()).select(PASSKEY.fields()).from(PASSKEY)
              .join(PERSON).on(PERSON.ID.eq(PASSKEY.PERSON_ID))
              .where(PASSKEY.CREDENTIAL_ID.eq(Passkeys.idOf(json))).and(PASSKEY.HOST.eq(place.host()))
              .and(PERSON.LEFT_ON.isNull()).forUpdate().fetchOne();
          if (row == null) {
            return Optional.empty();
          }
          Passkeys.Key key = new Passkeys.Key(
              row.get(PASSKEY.CREDENTIAL_ID), row.get(PASSKEY.KEY_DATA), row.get(PASSKEY.BACKUP_ABLE),
              row.get(PASSKEY.SIGN_COUNT));
          return Passkeys.verify(json, key, place, challenge)
              .map(
                  count -> {
                    dsl.update(PASSKEY).set(PASSKEY.SIGN_COUNT, count).set(PASSKEY.USED_AT, clock.instant())
                        .where(PASSKEY.CREDENTIAL_ID.eq(key.id())).execute();
                    return PeopleStore.toPerson(row);
                  });
        });
  }

  /** A person's passkeys, the oldest first. */
  public List<Listed> of(UUID personId) {
    return database.dsl().selectFrom(PASSKEY).where(PASSKEY.PERSON_ID.eq(personId))
        .orderBy(PASSKEY.MADE_AT, PASSKEY.CREDENTIAL_ID)
        .fetch(row -> new Listed(row.getCredentialId(), row.getTitle(), row.getMadeAt(), Optional.ofNullable(row.getUsedAt())));
  }

  /** Whether a person has one. */
  public boolean has(UUID personId) {
    return database.dsl().fetchExists(PASSKEY, PASSKEY.PERSON_ID.eq(personId));
  }

  /** Takes away that one of a person's passkeys that has this id; does nothing if none has. */
  public void remove(UUID personId, String id) {
    database.dsl().deleteFrom(PASSKEY)
        .where(PASSKEY.PERSON_ID.eq(personId)).and(PASSKEY.CREDENTIAL_ID.eq(id)).execute();
  }

  /** Takes all of a person's passkeys away. */
  public void removeAll(UUID personId) {
    database.dsl().deleteFrom(PASSKEY).where(PASSKEY.PERSON_ID.eq(personId)).execute();
  }
}

package ferrule.dossier;

import static ferrule.store.jooq.Tables.RECORD_LINK;

import ferrule.people.Secrets;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Record;

/** The links by which apprentices show their records. Of a link's token only a hash is kept. */
public final class LinkStore {

  private final Database database;
  private final Clock clock;

  /** A store over this database that tells the time by this clock. */
  public LinkStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  private Instant now() {
    return clock.instant().truncatedTo(ChronoUnit.MILLIS);
  }

  /**
   * Makes a link.
   *
   * @return its token, which cannot be had again
   */
  String make(UUID person, String purpose, Duration validFor) {
    String token = Secrets.token();
    Instant now = now();
    database.dsl().insertInto(RECORD_LINK)
        .set(RECORD_LINK.ID, UUID.randomUUID())
        .set(RECORD_LINK.TOKEN_HASH, Secrets.digest(token))
        .set(RECORD_LINK.PERSON_ID, person)
        .set(RECORD_LINK.PURPOSE, purpose)
        .set(RECORD_LINK.MADE_AT, now)
        .set(RECORD_LINK.EXPIRES_AT, now.plus(validFor))
        .execute();
    return token;
  }

  /** The link of this token, if it opens a record now. */
  Optional<ShareLink> find(String token) {
    Instant now = now();
    return database.dsl().selectFrom(RECORD_LINK).where(RECORD_LINK.TOKEN_HASH.eq(Secrets.digest(token)))
        .fetchOptional(LinkStore::toLink).filter(link -> link.isOpen(now));
  }

  /** Counts that the record was opened by a link. */
  void opened(ShareLink link) {
    database.dsl().update(RECORD_LINK)
        .set(RECORD_LINK.TIMES_OPENED, RECORD_LINK.TIMES_OPENED.plus(1))
        .set(RECORD_LINK.LAST_OPENED_AT, now())
        .where(RECORD_LINK.ID.eq(link.id()))
        .execute();
  }

  /** A person's links, the latest first. */
  List<ShareLink> of(UUID person) {
    return database.dsl().selectFrom(RECORD_LINK).where(RECORD_LINK.PERSON_ID.eq(person))
        .orderBy(RECORD_LINK.MADE_AT.desc(), RECORD_LINK.ID).fetch(LinkStore::toLink);
  }

  /** Whether a link, in force or not, was made by this person. */
  boolean isOf(UUID person, UUID link) {
    return database.dsl().fetchExists(RECORD_LINK, RECORD_LINK.ID.eq(link).and(RECORD_LINK.PERSON_ID.eq(person)));
  }

  /** Takes a person's own link back; false if it is not theirs or was taken back before. */
  boolean revoke(UUID person, UUID link) {
    return 1 == database.dsl().update(RECORD_LINK)
        .set(RECORD_LINK.REVOKED_AT, now())
        .where(RECORD_LINK.ID.eq(link))
        .and(RECORD_LINK.PERSON_ID.eq(person))
        .and(RECORD_LINK.REVOKED_AT.isNull())
        .execute();
  }

  private static ShareLink toLink(Record row) {
    return new ShareLink(
        row.get(RECORD_LINK.ID), row.get(RECORD_LINK.PERSON_ID), row.get(RECORD_LINK.PURPOSE),
        row.get(RECORD_LINK.MADE_AT), row.get(RECORD_LINK.EXPIRES_AT),
        Optional.ofNullable(row.get(RECORD_LINK.REVOKED_AT)), row.get(RECORD_LINK.TIMES_OPENED),
        Optional.ofNullable(row.get(RECORD_LINK.LAST_OPENED_AT)));
  }
}

package ferrule.bench;

import static ferrule.store.jooq.Tables.AUTHORITY;

import ferrule.store.Database;
import java.time.Clock;
import java.util.Optional;
import java.util.UUID;

/** What each instructor may sign, in the database; every change stays on record, the latest counts. */
public final class AuthorityStore {

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public AuthorityStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** What an instructor may sign; everything as long as nobody has said otherwise. */
  public Authority of(UUID instructor) {
    return given(instructor).orElseGet(Authority::everything);
  }

  /** What somebody said that an instructor may sign, if anybody did. */
  public Optional<Authority> given(UUID instructor) {
    return database.dsl().select(AUTHORITY.AREAS).from(AUTHORITY)
        .where(AUTHORITY.INSTRUCTOR_ID.eq(instructor))
        .orderBy(AUTHORITY.SET_AT.desc(), AUTHORITY.ID)
        .limit(1)
        .fetchOptional(AUTHORITY.AREAS)
        .map(Authority::fromJson);
  }

  /** Says what an instructor may sign from now on. */
  public void give(UUID instructor, Authority authority, UUID by) {
    database.dsl()
        .insertInto(AUTHORITY)
        .set(AUTHORITY.ID, UUID.randomUUID())
        .set(AUTHORITY.INSTRUCTOR_ID, instructor)
        .set(AUTHORITY.AREAS, authority.toJson())
        .set(AUTHORITY.SET_BY, by)
        .set(AUTHORITY.SET_AT, clock.instant())
        .execute();
  }
}

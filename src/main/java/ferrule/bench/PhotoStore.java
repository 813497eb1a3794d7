package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PHOTO;

import ferrule.ledger.LogCheck;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Vouched;
import ferrule.store.Database;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;

/**
 * The pictures of graded work, in the database. A signed record names its pictures by their hashes, so that the log
 * vouches for them.
 */
public final class PhotoStore implements Vouched {

  /** The most pictures that a grade holds. */
  public static final int MOST = 6;

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public PhotoStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * Adds a picture to an open draft; the same picture once.
   *
   * @return false, with nothing changed, if the draft is closed or holds {@link #MOST} already
   */
  public boolean add(UUID draft, CleanPhoto photo) {
    return database.inTransaction(
        dsl -> {
          if (!lockOpen(dsl, draft)) {
            return false;
          }
          List<GradePhoto> there = of(dsl, draft);
          if (there.contains(photo.photo()) || there.size() >= MOST) {
            return there.contains(photo.photo());
          }
          dsl.insertInto(PHOTO)
              .set(PHOTO.ID, UUID.randomUUID())
              .set(PHOTO.DRAFT_ID, draft)
              .set(PHOTO.SHA256, photo.photo().sha256())
              .set(PHOTO.WIDTH, photo.photo().width())
              .set(PHOTO.HEIGHT, photo.photo().height())
              .set(PHOTO.JPEG, photo.jpeg())
              .set(PHOTO.ADDED_AT, clock.instant())
              .execute();
          return true;
        });
  }

  /**
   * Takes a picture out of an open draft.
   *
   * @return false, with nothing changed, if the draft is closed or does not hold it
   */
  public boolean remove(UUID draft, String sha256) {
    return database.inTransaction(
        dsl ->
            lockOpen(dsl, draft)
                && dsl.deleteFrom(PHOTO).where(PHOTO.DRAFT_ID.eq(draft)).and(PHOTO.SHA256.eq(sha256)).execute() == 1);
  }

  private static boolean lockOpen(DSLContext dsl, UUID draft) {
    return dsl.select(GRADE_DRAFT.ID).from(GRADE_DRAFT)
        .where(GRADE_DRAFT.ID.eq(draft))
        .and(GRADE_DRAFT.SIGNED_RECORD.isNull())
        .and(GRADE_DRAFT.DISCARDED_AT.isNull())
        .forUpdate()
        .fetchOptional()
        .isPresent();
  }

  /** The pictures of a draft, in the order in which they were added. */
  public List<GradePhoto> of(UUID draft) {
    return of(database.dsl(), draft);
  }

  /** The same, as the caller's transaction sees it. */
  static List<GradePhoto> of(DSLContext dsl, UUID draft) {
    return dsl.select(PHOTO.SHA256, PHOTO.WIDTH, PHOTO.HEIGHT).from(PHOTO)
        .where(PHOTO.DRAFT_ID.eq(draft))
        .orderBy(PHOTO.ADDED_AT, PHOTO.SHA256)
        .fetch(row -> new GradePhoto(row.value1(), row.value2(), row.value3()));
  }

  /** A picture as it is kept, whatever its bytes may be by now. */
  public Optional<byte[]> jpeg(String sha256) {
    return database.dsl().select(PHOTO.JPEG).from(PHOTO).where(PHOTO.SHA256.eq(sha256)).limit(1)
        .fetchOptional(PHOTO.JPEG);
  }

  /** The apprentices whose work is in a picture. */
  public List<UUID> apprenticesIn(String sha256) {
    return database.dsl().selectDistinct(GRADE_DRAFT.APPRENTICE_ID).from(PHOTO)
        .join(GRADE_DRAFT).on(GRADE_DRAFT.ID.eq(PHOTO.DRAFT_ID))
        .where(PHOTO.SHA256.eq(sha256))
        .fetch(GRADE_DRAFT.APPRENTICE_ID);
  }

  /** The first of these records of which a photo is gone or is another picture than the one that was signed. */
  @Override
  public Optional<LogCheck.Touched> firstTouched(List<LogEntry> entries) {
    return entries.stream()
        .filter(e -> RecordStore.KINDS.contains(e.kind()) && e.body().contains("\"photos\":["))
        .flatMap(e -> faultOf(e).stream())
        .findFirst();
  }

  private Optional<LogCheck.Touched> faultOf(LogEntry entry) {
    try {
      return LoggedRecord.of(entry).record().grade().stream()
          .flatMap(grade -> grade.photos().stream())
          .flatMap(photo -> faultOf(photo).stream())
          .findFirst()
          .map(fault -> new LogCheck.Touched(
              entry.number(), "record " + entry.number() + " (" + entry.kind() + " " + entry.id() + "): " + fault));
    } catch (IllegalArgumentException e) {
      return Optional.empty(); // its text has been altered, which the log itself tells
    }
  }

  /** What is wrong with a picture that a signed record names; empty if it is still the very same. */
  public Optional<String> faultOf(GradePhoto photo) {
    List<byte[]> kept =
        database.dsl().select(PHOTO.JPEG).from(PHOTO).where(PHOTO.SHA256.eq(photo.sha256())).fetch(PHOTO.JPEG);
    if (kept.isEmpty()) {
      return Optional.of("its photo " + photo.sha256() + " is gone");
    }
    boolean same = kept.stream().allMatch(jpeg -> CleanPhoto.sha256(jpeg).equals(photo.sha256()));
    return same ? Optional.empty() : Optional.of("its photo " + photo.sha256() + " is another picture now");
  }
}

package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.RECORD_LOG;
import static ferrule.store.jooq.Tables.RECORD_LOG_HEAD;

import ferrule.people.Person;
import ferrule.store.Database;
import java.sql.Connection;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jooq.Cursor;
import org.jooq.DSLContext;
import org.jooq.Record;

/**
 * The log of signed records in the database. It is only ever added to. Whoever appends locks the row of the log's head
 * first, so that appends from several nodes take turns: their order is total and no two extend the same head.
 */
public final class RecordStore {

  private static final int FETCH = 1_000;

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time of signing from this clock. */
  public RecordStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /**
   * Signs a draft: as a sign-off, or as a correction if it corrects a record. The signer must have proved presence.
   *
   * @param draft as it was shown to the signer; if it has changed since, nothing is signed
   * @param grade of that draft
   * @param signer who proved presence
   * @param edition of the curriculum that the grade was made by
   */
  public Signing sign(Draft draft, Grade grade, Person signer, String edition) {
    return database.inTransaction(
        dsl -> {
          Head head = lockHead(dsl);
          Record stored = dsl.select(GRADE_DRAFT.fields()).from(GRADE_DRAFT).where(GRADE_DRAFT.ID.eq(draft.id()))
              .forUpdate().fetchSingle();
          if (stored.get(GRADE_DRAFT.SIGNED_RECORD) != null) {
            return new Signing.SignedBefore(stored.get(GRADE_DRAFT.SIGNED_RECORD));
          }
          boolean same = Entries.fromJson(stored.get(GRADE_DRAFT.ENTRIES)).equals(draft.entries());
          if (!same || stored.get(GRADE_DRAFT.DISCARDED_AT) != null) {
            return new Signing.Changed();
          }
          Optional<UUID> taken = draft.corrects().flatMap(target -> supersededBy(dsl, target));
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          LogEntry entry = append(dsl, head, recordOf(draft, grade, signature(signer, head), edition));
          dsl.update(GRADE_DRAFT).set(GRADE_DRAFT.SIGNED_RECORD, entry.id()).where(GRADE_DRAFT.ID.eq(draft.id()))
              .execute();
          return new Signing.Signed(entry);
        });
  }

  private static BenchRecord recordOf(Draft draft, Grade grade, Signature signature, String edition) {
    UUID id = UUID.randomUUID();
    return draft.corrects()
        .<BenchRecord>map(target -> new BenchRecord.Correction(
            id, target, draft.id(), draft.entries().reason(), grade, signature, edition))
        .orElseGet(() -> new BenchRecord.SignOff(id, draft.id(), grade, signature, edition));
  }

  /** Withdraws a sign-off or a correction. The signer must have proved presence. */
  public Signing withdraw(LogEntry target, String reason, Person signer, String edition) {
    return database.inTransaction(
        dsl -> {
          Head head = lockHead(dsl);
          Optional<UUID> taken = supersededBy(dsl, target.id());
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          BenchRecord withdrawal =
              new BenchRecord.Withdrawal(
                  UUID.randomUUID(), target.id(), reason, target.apprentice(), target.record().apprenticeName(),
                  signature(signer, head), edition);
          return new Signing.Signed(append(dsl, head, withdrawal));
        });
  }

  /**
   * Appends a record that carries its own time, such as one that is brought in from elsewhere.
   *
   * @throws IllegalArgumentException if its time is before the last record's
   */
  public LogEntry append(BenchRecord record) {
    return database.inTransaction(
        dsl -> {
          Head head = lockHead(dsl);
          head.lastAt().filter(last -> record.signature().at().isBefore(last)).ifPresent(
              last -> {
                throw new IllegalArgumentException(
                    "records are appended in the order of time; the last is of " + last + ", this one of "
                        + record.signature().at());
              });
          return append(dsl, head, record);
        });
  }

  private record Head(MerkleTree tree, Optional<Instant> lastAt) {}

  private static Head lockHead(DSLContext dsl) {
    var row = dsl.selectFrom(RECORD_LOG_HEAD).where(RECORD_LOG_HEAD.ID.eq(1)).forUpdate().fetchSingle();
    return new Head(MerkleTree.of(row.getSize(), row.getPeaks()), Optional.ofNullable(row.getLastAt()));
  }

  // nodes' clocks differ by a little; the log's own times never run backward
  private Signature signature(Person signer, Head head) {
    Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
    Instant at = head.lastAt().filter(last -> last.isAfter(now)).orElse(now);
    return new Signature(signer.id(), signer.fullName(), at);
  }

  private static LogEntry append(DSLContext dsl, Head head, BenchRecord record) {
    LogEntry entry = LogEntry.append(head.tree(), record);
    dsl.insertInto(RECORD_LOG)
        .set(RECORD_LOG.NUMBER, entry.number())
        .set(RECORD_LOG.ID, entry.id())
        .set(RECORD_LOG.KIND, entry.kind())
        .set(RECORD_LOG.APPRENTICE_ID, entry.apprentice())
        .set(RECORD_LOG.SUPERSEDES, entry.supersedes().orElse(null))
        .set(RECORD_LOG.DRAFT_ID, entry.draft().orElse(null))
        .set(RECORD_LOG.RECORDED_AT, entry.at())
        .set(RECORD_LOG.BODY, entry.body())
        .set(RECORD_LOG.LEAF_HASH, entry.leafHash())
        .set(RECORD_LOG.ROOT_HASH, entry.rootHash())
        .execute();
    dsl.update(RECORD_LOG_HEAD)
        .set(RECORD_LOG_HEAD.SIZE, entry.number())
        .set(RECORD_LOG_HEAD.ROOT_HASH, entry.rootHash())
        .set(RECORD_LOG_HEAD.PEAKS, head.tree().peaks())
        .set(RECORD_LOG_HEAD.LAST_AT, entry.at())
        .where(RECORD_LOG_HEAD.ID.eq(1))
        .execute();
    return entry;
  }

  private static Optional<UUID> supersededBy(DSLContext dsl, UUID record) {
    return dsl.select(RECORD_LOG.ID).from(RECORD_LOG).where(RECORD_LOG.SUPERSEDES.eq(record))
        .fetchOptional(RECORD_LOG.ID);
  }

  /** The record that took the place of this one, if one did. */
  public Optional<UUID> supersededBy(UUID record) {
    return supersededBy(database.dsl(), record);
  }

  /** The entry of the record with this id, if there is one. */
  public Optional<LogEntry> find(UUID record) {
    return database.dsl().selectFrom(RECORD_LOG).where(RECORD_LOG.ID.eq(record)).fetchOptional(RecordStore::toEntry);
  }

  /** The last entries, the latest first. */
  public List<LogEntry> latest(int most) {
    return database.dsl().selectFrom(RECORD_LOG).orderBy(RECORD_LOG.NUMBER.desc()).limit(most)
        .fetch(RecordStore::toEntry);
  }

  /** What was recorded about these apprentices up to and at an instant, in the order of the log. */
  public List<LogEntry> about(Collection<UUID> apprentices, Instant upTo) {
    return database
        .dsl()
        .selectFrom(RECORD_LOG)
        .where(RECORD_LOG.APPRENTICE_ID.in(apprentices))
        .and(RECORD_LOG.RECORDED_AT.le(upTo))
        .orderBy(RECORD_LOG.NUMBER)
        .fetch(RecordStore::toEntry);
  }

  /** The head of the log, as it is stored. */
  public TreeHead head() {
    return database.dsl().selectFrom(RECORD_LOG_HEAD)
        .fetchSingle(row -> new TreeHead(row.getSize(), row.getRootHash()));
  }

  /**
   * Gives every entry to a reader, in the order of the log, without holding them all; signing goes on meanwhile.
   *
   * @return the head that is stored beside them, as of the same moment; empty if it is gone or cannot be read
   */
  public Optional<TreeHead> read(Consumer<LogEntry> reader) {
    return database.dsl().connectionResult(connection -> {
      connection.setAutoCommit(false);
      try {
        // one snapshot for head and records, so that they belong together
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        DSLContext dsl = database.dsl().configuration().derive(connection).dsl();
        Optional<TreeHead> head = storedHead(dsl);
        try (Cursor<? extends Record> rows =
            dsl.selectFrom(RECORD_LOG).orderBy(RECORD_LOG.NUMBER).fetchSize(FETCH).fetchLazy()) {
          rows.forEach(row -> reader.accept(toEntry(row)));
        }
        return head;
      } finally {
        connection.rollback();
        connection.setAutoCommit(true);
      }
    });
  }

  private static Optional<TreeHead> storedHead(DSLContext dsl) {
    try {
      return dsl.selectFrom(RECORD_LOG_HEAD).fetchOptional(row -> new TreeHead(row.getSize(), row.getRootHash()));
    } catch (IllegalArgumentException e) {
      return Optional.empty(); // somebody wrote something into it that is no head
    }
  }

  /** Recomputes the whole log. */
  public LogCheck.Result check(Optional<TreeHead> noted) {
    LogCheck check = new LogCheck(noted);
    return check.finish(read(check::accept));
  }

  private static LogEntry toEntry(Record row) {
    return new LogEntry(
        row.get(RECORD_LOG.NUMBER),
        row.get(RECORD_LOG.ID),
        row.get(RECORD_LOG.KIND),
        row.get(RECORD_LOG.APPRENTICE_ID),
        Optional.ofNullable(row.get(RECORD_LOG.SUPERSEDES)),
        Optional.ofNullable(row.get(RECORD_LOG.DRAFT_ID)),
        row.get(RECORD_LOG.RECORDED_AT),
        row.get(RECORD_LOG.BODY),
        row.get(RECORD_LOG.LEAF_HASH),
        row.get(RECORD_LOG.ROOT_HASH));
  }
}

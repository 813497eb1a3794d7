package ferrule.ledger;

import static ferrule.store.jooq.Tables.RECORD_LOG;
import static ferrule.store.jooq.Tables.RECORD_LOG_HEAD;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.store.Database;
import java.sql.Connection;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import org.jooq.Condition;
import org.jooq.Cursor;
import org.jooq.DSLContext;
import org.jooq.Record;

/**
 * The log in the database. It is only ever added to.
 *
 * <p>One row holds the log's head. An append moves it on from the head that this store saw last, which locks the row
 * until the transaction ends; if the row has moved meanwhile, because another node or thread appended, the head is read
 * again under the lock. So appends are in one total order, no two extend the same head, and an append costs one update
 * and one insert as long as nobody else appends.
 */
public final class LedgerStore {

  private static final int FETCH = 1_000;

  private final Database database;
  // where the log stood when it was last seen here; the database decides whether it still stands there
  private volatile Head seen = new Head(0, "", "", Optional.empty());

  private record Head(long size, String root, String peaks, Optional<Instant> lastAt) {}

  /** The log in this database. */
  public LedgerStore(Database database) {
    this.database = database;
  }

  /**
   * Appends what somebody says, in the caller's transaction: it enters the log if that commits. Call it last, because
   * others who append wait from here until the transaction ends.
   *
   * @param dsl of the transaction
   * @param now the time of signing
   * @param said makes the JSON of the statement ({@link Statement#begin}), signed at the time that it is given: that of
   *     signing to the millisecond, or the last entry's if that is later, because the clocks of nodes differ a little
   *     and the log's times never run backward. It may be asked more than once.
   */
  public LogEntry append(DSLContext dsl, Instant now, Function<Instant, ObjectNode> said) {
    Instant time = now.truncatedTo(ChronoUnit.MILLIS);
    Head from = seen;
    if (!from.root().isEmpty()) {
      Step step = step(from, time, said);
      if (moveHead(dsl, from, step.to())) {
        return keep(dsl, step);
      }
    }
    Step step = step(lockHead(dsl), time, said);
    if (!moveHead(dsl, step.from(), step.to())) {
      throw new IllegalStateException("the log's head was changed while it was locked");
    }
    return keep(dsl, step);
  }

  /**
   * Waits until nobody else is appending; from here until the transaction ends nobody else does. For callers whose
   * statement depends on what the log says already.
   */
  public void takeTurn(DSLContext dsl) {
    seen = lockHead(dsl);
  }

  private record Step(Head from, Head to, LogEntry entry) {}

  private static Step step(Head from, Instant time, Function<Instant, ObjectNode> said) {
    Instant at = from.lastAt().filter(last -> last.isAfter(time)).orElse(time);
    Statement statement = Statement.of(said.apply(at));
    from.lastAt().filter(last -> statement.at().isBefore(last)).ifPresent(
        last -> {
          throw new IllegalArgumentException(
              "entries are in the order of time; the last is of " + last + ", this one of " + statement.at());
        });
    MerkleTree tree = MerkleTree.of(from.size(), from.peaks());
    LogEntry entry = LogEntry.append(tree, statement);
    return new Step(
        from, new Head(entry.number(), entry.rootHash(), tree.peaks(), Optional.of(statement.at())), entry);
  }

  private static Head lockHead(DSLContext dsl) {
    var row = dsl.selectFrom(RECORD_LOG_HEAD).where(RECORD_LOG_HEAD.ID.eq(1)).forUpdate().fetchSingle();
    return new Head(row.getSize(), row.getRootHash(), row.getPeaks(), Optional.ofNullable(row.getLastAt()));
  }

  private static boolean moveHead(DSLContext dsl, Head from, Head to) {
    return 1 == dsl.update(RECORD_LOG_HEAD)
        .set(RECORD_LOG_HEAD.SIZE, to.size())
        .set(RECORD_LOG_HEAD.ROOT_HASH, to.root())
        .set(RECORD_LOG_HEAD.PEAKS, to.peaks())
        .set(RECORD_LOG_HEAD.LAST_AT, to.lastAt().orElse(null))
        .where(RECORD_LOG_HEAD.ID.eq(1))
        .and(RECORD_LOG_HEAD.SIZE.eq(from.size()))
        .and(RECORD_LOG_HEAD.ROOT_HASH.eq(from.root()))
        .execute();
  }

  private LogEntry keep(DSLContext dsl, Step step) {
    LogEntry entry = step.entry();
    Statement said = entry.said();
    dsl.insertInto(RECORD_LOG)
        .set(RECORD_LOG.NUMBER, entry.number())
        .set(RECORD_LOG.ID, said.id())
        .set(RECORD_LOG.KIND, said.kind())
        .set(RECORD_LOG.SUBJECT_ID, said.subject().orElse(null))
        .set(RECORD_LOG.SUPERSEDES, said.supersedes().orElse(null))
        .set(RECORD_LOG.DRAFT_ID, said.draft().orElse(null))
        .set(RECORD_LOG.RECORDED_AT, said.at())
        .set(RECORD_LOG.BODY, said.text())
        .set(RECORD_LOG.LEAF_HASH, entry.leafHash())
        .set(RECORD_LOG.ROOT_HASH, entry.rootHash())
        .execute();
    seen = step.to();
    return entry;
  }

  /** The entry that took the place of this one, if one did. */
  public Optional<UUID> supersededBy(UUID id) {
    return supersededBy(database.dsl(), id);
  }

  /** The same, as the caller's transaction sees it. */
  public Optional<UUID> supersededBy(DSLContext dsl, UUID id) {
    return dsl.select(RECORD_LOG.ID).from(RECORD_LOG).where(RECORD_LOG.SUPERSEDES.eq(id)).fetchOptional(RECORD_LOG.ID);
  }

  /** The entry with this id, if there is one. */
  public Optional<LogEntry> find(UUID id) {
    return database.dsl().selectFrom(RECORD_LOG).where(RECORD_LOG.ID.eq(id)).fetchOptional(LedgerStore::toEntry);
  }

  /** The last entries of these kinds, the latest first. */
  public List<LogEntry> latest(Collection<String> kinds, int most) {
    return database.dsl().selectFrom(RECORD_LOG).where(RECORD_LOG.KIND.in(kinds)).orderBy(RECORD_LOG.NUMBER.desc())
        .limit(most).fetch(LedgerStore::toEntry);
  }

  /** What was said in these kinds up to and at an instant, in the order of the log. */
  public List<LogEntry> ofKinds(Collection<String> kinds, Instant upTo) {
    return upTo(upTo, RECORD_LOG.KIND.in(kinds));
  }

  /** What was said in these kinds about these persons up to and at an instant, in the order of the log. */
  public List<LogEntry> about(Collection<UUID> subjects, Collection<String> kinds, Instant upTo) {
    return upTo(upTo, RECORD_LOG.SUBJECT_ID.in(subjects).and(RECORD_LOG.KIND.in(kinds)));
  }

  private List<LogEntry> upTo(Instant upTo, Condition which) {
    return database.dsl().selectFrom(RECORD_LOG).where(which).and(RECORD_LOG.RECORDED_AT.le(upTo))
        .orderBy(RECORD_LOG.NUMBER).fetch(LedgerStore::toEntry);
  }

  /** The head of the log, as it is stored. */
  public TreeHead head() {
    return database.dsl().selectFrom(RECORD_LOG_HEAD)
        .fetchSingle(row -> new TreeHead(row.getSize(), row.getRootHash()));
  }

  /**
   * Gives every entry to a reader, in the order of the log, without holding them all; appending goes on meanwhile.
   *
   * @return the head that is stored beside them, as of the same moment; empty if it is gone or cannot be read
   */
  public Optional<TreeHead> read(Consumer<LogEntry> reader) {
    return database.dsl().connectionResult(connection -> {
      connection.setAutoCommit(false);
      try {
        // one snapshot for head and entries, so that they belong together
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
    Statement said = new Statement(
        row.get(RECORD_LOG.KIND),
        row.get(RECORD_LOG.ID),
        Optional.ofNullable(row.get(RECORD_LOG.SUBJECT_ID)),
        Optional.ofNullable(row.get(RECORD_LOG.SUPERSEDES)),
        Optional.ofNullable(row.get(RECORD_LOG.DRAFT_ID)),
        row.get(RECORD_LOG.RECORDED_AT),
        row.get(RECORD_LOG.BODY));
    return new LogEntry(
        row.get(RECORD_LOG.NUMBER), said, row.get(RECORD_LOG.LEAF_HASH), row.get(RECORD_LOG.ROOT_HASH));
  }
}

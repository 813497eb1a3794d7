package ferrule.ledger;

import static ferrule.store.jooq.Tables.RECORD_LOG;
import static ferrule.store.jooq.Tables.RECORD_LOG_HEAD;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.store.Database;
import java.sql.PreparedStatement;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.LongConsumer;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.impl.DSL;

/**
 * The log in the database. It is only ever added to; an erasure alone changes texts, never a hash.
 *
 * <p>One row holds the log's head. An append moves it on from the head that this store saw last, which locks the row
 * until the transaction ends; if the row has moved meanwhile, because another node or thread appended, the head is read
 * again under the lock. So appends are in one total order, no two extend the same head, and an append costs one update
 * and one insert as long as nobody else appends.
 */
public final class LedgerStore {

  private static final HexFormat HEX = HexFormat.of();
  private static final int STRETCH = 1_000;

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

  // by hand: it is the only statement that the chain adds to a commit, and others wait while it runs
  private static final String MOVE_HEAD =
      "update record_log_head set size = ?, root_hash = ?, peaks = ?, last_at = ?"
          + " where id = 1 and size = ? and root_hash = ?";

  private static boolean moveHead(DSLContext dsl, Head from, Head to) {
    return dsl.connectionResult(connection -> {
      try (PreparedStatement move = connection.prepareStatement(MOVE_HEAD)) {
        move.setLong(1, to.size());
        move.setString(2, to.root());
        move.setString(3, to.peaks());
        move.setObject(4, to.lastAt().map(at -> at.atOffset(ZoneOffset.UTC)).orElse(null));
        move.setLong(5, from.size());
        move.setString(6, from.root());
        return move.executeUpdate() == 1;
      }
    });
  }

  /**
   * Puts other texts in the place of those of earlier entries, and appends the erasure that vouches for them, in the
   * caller's transaction, which has taken its turn ({@link #takeTurn}) before it read the entries.
   *
   * @param texts what is to stand in the place of each entry's text: the same statement with less in it
   * @param said makes the JSON of the erasure, without the list of what it redacts; see {@link #append}
   * @throws IllegalArgumentException if a text is of another statement, or an entry is an erasure
   */
  public LogEntry redact(
      DSLContext dsl, Instant now, Map<LogEntry, Statement> texts, Function<Instant, ObjectNode> said) {
    texts.forEach(Erasure::requireSameButText);
    LogEntry erasure = append(dsl, now, at -> Erasure.vouchFor(texts, said.apply(at)));
    texts.forEach((entry, text) -> dsl.update(RECORD_LOG)
        .set(RECORD_LOG.BODY, text.text())
        .set(RECORD_LOG.REDACTED_BY, erasure.number())
        .where(RECORD_LOG.NUMBER.eq(entry.number()))
        .execute());
    return erasure;
  }

  /** The numbers of the entries in whose text all words of one of these lists stand, in whatever case. */
  public Set<Long> withWords(List<List<String>> words) {
    return database.dsl().select(RECORD_LOG.NUMBER).from(RECORD_LOG).where(holds(words)).fetchSet(RECORD_LOG.NUMBER);
  }

  /**
   * The entries about a person and those in whose text such words stand, as the caller's transaction sees them.
   *
   * @param found those that were found before, so that nobody waits for a search of the whole log
   * @param searched how many entries were searched then
   */
  public List<LogEntry> aboutOrWith(
      DSLContext dsl, UUID subject, List<List<String>> words, Set<Long> found, long searched) {
    return dsl.selectFrom(RECORD_LOG)
        .where(RECORD_LOG.SUBJECT_ID.eq(subject).or(RECORD_LOG.NUMBER.in(found))
            .or(RECORD_LOG.NUMBER.gt(searched).and(holds(words))))
        .orderBy(RECORD_LOG.NUMBER).fetch(LedgerStore::toEntry);
  }

  private static Condition holds(List<List<String>> words) {
    return words.isEmpty() ? DSL.falseCondition() : DSL.or(words.stream().map(all -> DSL.and(all.stream().map(RECORD_LOG.BODY::containsIgnoreCase).toList()))
        .toList());
  }

  /** These entries with the erasures that vouch for their texts, as whoever proves them needs, in the order of the log. */
  public List<LogEntry> withErasures(List<LogEntry> entries) {
    Set<Long> missing = new TreeSet<>();
    entries.forEach(entry -> entry.redactedBy().ifPresent(missing::add));
    entries.forEach(entry -> missing.remove(entry.number()));
    if (missing.isEmpty()) {
      return entries;
    }
    return Stream.concat(
            entries.stream(),
            database.dsl().selectFrom(RECORD_LOG).where(RECORD_LOG.NUMBER.in(missing)).fetch(LedgerStore::toEntry).stream())
        .sorted(Comparator.comparing(LogEntry::number)).toList();
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
        .set(RECORD_LOG.SUBTREE_HASH, entry.subtreeHash().orElse(null))
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

  /** Everything that was said about this person, in the order of the log. */
  public List<LogEntry> about(UUID subject) {
    return database.dsl().selectFrom(RECORD_LOG).where(RECORD_LOG.SUBJECT_ID.eq(subject)).orderBy(RECORD_LOG.NUMBER)
        .fetch(LedgerStore::toEntry);
  }

  private List<LogEntry> upTo(Instant upTo, Condition which) {
    return database.dsl().selectFrom(RECORD_LOG).where(which).and(RECORD_LOG.RECORDED_AT.le(upTo))
        .orderBy(RECORD_LOG.NUMBER).fetch(LedgerStore::toEntry);
  }

  /** When the last entry was signed; empty if there is none. */
  public Optional<Instant> lastAt() {
    return database.dsl().select(RECORD_LOG_HEAD.LAST_AT).from(RECORD_LOG_HEAD).fetchOptional(RECORD_LOG_HEAD.LAST_AT);
  }

  /** The head of the log, as it is stored. */
  public TreeHead head() {
    return database.dsl().selectFrom(RECORD_LOG_HEAD)
        .fetchSingle(row -> new TreeHead(row.getSize(), row.getRootHash()));
  }

  /**
   * Gives every entry to a reader, in the order of the log, a stretch at a time; appending goes on meanwhile.
   *
   * @return the head that is stored beside them, as of the same moment; empty if it is gone or cannot be read
   */
  public Optional<TreeHead> read(Consumer<LogEntry> reader) {
    return readStretches(stretch -> {
      stretch.forEach(reader);
      return true;
    });
  }

  /** Gives stretches to the reader until it has had enough. */
  private Optional<TreeHead> readStretches(Predicate<List<LogEntry>> reader) {
    // one snapshot for head and entries, so that they belong together
    return database.reading(dsl -> {
      Optional<TreeHead> head = storedHead(dsl);
      List<LogEntry> stretch = stretchAfter(dsl, Long.MIN_VALUE);
      while (!stretch.isEmpty() && reader.test(stretch)) {
        stretch = stretchAfter(dsl, stretch.get(stretch.size() - 1).number());
      }
      return head;
    });
  }

  // by the key, not by one long result: an embedded database would lay the whole result down before the first row
  private static List<LogEntry> stretchAfter(DSLContext dsl, long number) {
    return dsl.selectFrom(RECORD_LOG).where(RECORD_LOG.NUMBER.gt(number)).orderBy(RECORD_LOG.NUMBER).limit(STRETCH)
        .fetch(LedgerStore::toEntry);
  }

  private static Optional<TreeHead> storedHead(DSLContext dsl) {
    try {
      return dsl.selectFrom(RECORD_LOG_HEAD).fetchOptional(row -> new TreeHead(row.getSize(), row.getRootHash()));
    } catch (IllegalArgumentException e) {
      return Optional.empty(); // somebody wrote something into it that is no head
    }
  }

  /** Recomputes the whole log, without witnesses and without what features keep beside it. */
  public LogCheck.Result check(Optional<TreeHead> noted) {
    return check(Witnesses.noted(noted), List.of(), done -> {});
  }

  /**
   * Recomputes the whole log and asks the features about what they keep beside it.
   *
   * @param progress told the number of entries done, now and then
   */
  public LogCheck.Result check(Witnesses witnesses, List<Vouched> vouched, LongConsumer progress) {
    LogCheck check = new LogCheck(witnesses);
    Optional<TreeHead> head = readStretches(stretch -> {
      stretch.forEach(check::accept);
      vouched.stream().flatMap(v -> v.firstTouched(stretch).stream()).forEach(check::accept);
      progress.accept(stretch.get(stretch.size() - 1).number());
      return check.touched().isEmpty();
    });
    return check.finish(head, vouched);
  }

  /**
   * The proof that an entry is in the log of this size.
   *
   * @throws IllegalArgumentException if it is not
   */
  public InclusionProof inclusion(long number, long size) {
    return prove(subtrees -> InclusionProof.of(number, size, subtrees));
  }

  /**
   * The proof that the log of the second size begins with that of the first.
   *
   * @throws IllegalArgumentException if the sizes are not in order
   */
  public ConsistencyProof consistency(long first, long second) {
    return prove(subtrees -> ConsistencyProof.of(first, second, subtrees));
  }

  /** Makes a proof twice: once to hear which entries it needs, once with what they hold. */
  private <P> P prove(Function<FullSubtrees, P> proof) {
    Set<Long> needed = new TreeSet<>();
    proof.apply((level, last) -> {
      for (int l = 0; l < level; l++) {
        needed.add(last - (1L << l));
      }
      needed.add(last);
      return NOTHING;
    });
    Map<Long, Leaf> leaves =
        database.dsl().select(RECORD_LOG.NUMBER, RECORD_LOG.LEAF_HASH, RECORD_LOG.SUBTREE_HASH).from(RECORD_LOG)
            .where(RECORD_LOG.NUMBER.in(needed))
            .fetchMap(RECORD_LOG.NUMBER, row -> new Leaf(row.value2(), Optional.ofNullable(row.value3())));
    return proof.apply((level, last) -> subtree(leaves, level, last));
  }

  private static final byte[] NOTHING = new byte[32];

  private record Leaf(String hash, Optional<String> subtree) {}

  private byte[] subtree(Map<Long, Leaf> leaves, int level, long last) {
    if (level > 0 && level == Long.numberOfTrailingZeros(last)) {
      return leaf(leaves, last).subtree().map(HEX::parseHex).orElseGet(() -> subtreeOfLeaves(level, last));
    }
    return level == 0 ? HEX.parseHex(leaf(leaves, last).hash())
        : MerkleTree.nodeHash(
            subtree(leaves, level - 1, last - (1L << (level - 1))), subtree(leaves, level - 1, last));
  }

  private static Leaf leaf(Map<Long, Leaf> leaves, long number) {
    return Optional.ofNullable(leaves.get(number)).orElseThrow(
        () -> new IllegalArgumentException("there is no record " + number + " in the log"));
  }

  private byte[] subtreeOfLeaves(int level, long last) {
    MerkleTree tree = new MerkleTree();
    database.dsl().select(RECORD_LOG.LEAF_HASH).from(RECORD_LOG)
        .where(RECORD_LOG.NUMBER.between(last - (1L << level) + 1, last)).orderBy(RECORD_LOG.NUMBER)
        .fetch(RECORD_LOG.LEAF_HASH).forEach(leaf -> tree.append(HEX.parseHex(leaf)));
    return tree.root();
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
        row.get(RECORD_LOG.NUMBER), said, row.get(RECORD_LOG.LEAF_HASH), row.get(RECORD_LOG.ROOT_HASH),
        Optional.ofNullable(row.get(RECORD_LOG.SUBTREE_HASH)), Optional.ofNullable(row.get(RECORD_LOG.REDACTED_BY)));
  }
}

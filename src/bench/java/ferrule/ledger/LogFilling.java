package ferrule.ledger;

import static ferrule.store.jooq.Tables.RECORD_LOG_HEAD;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.store.Database;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.ZoneOffset;

/** Appends many invented statements to the log in few transactions, going on where it ended before. */
public final class LogFilling implements AutoCloseable {

  private final Connection connection;
  private final PreparedStatement insert;
  private final MerkleTree tree;

  /** Goes on at the log's head, over a connection that commits when it is told. */
  public LogFilling(Database database, Connection connection) throws SQLException {
    this.connection = connection;
    this.tree = database.dsl().selectFrom(RECORD_LOG_HEAD)
        .fetchSingle(row -> MerkleTree.of(row.getSize(), row.getPeaks()));
    this.insert = connection.prepareStatement(
        "insert into record_log (number, id, kind, subject_id, supersedes, draft_id, recorded_at, body, leaf_hash,"
            + " root_hash, subtree_hash) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  }

  /** How many entries there are by now. */
  public long size() {
    return tree.size();
  }

  /** Appends a statement; it is written with the next {@link #flush}. */
  public void append(ObjectNode said) throws SQLException {
    LogEntry entry = LogEntry.append(tree, Statement.of(said));
    Statement statement = entry.said();
    insert.setLong(1, entry.number());
    insert.setObject(2, statement.id());
    insert.setString(3, statement.kind());
    insert.setObject(4, statement.subject().orElse(null));
    insert.setObject(5, statement.supersedes().orElse(null));
    insert.setObject(6, statement.draft().orElse(null));
    insert.setObject(7, statement.at().atOffset(ZoneOffset.UTC));
    insert.setString(8, statement.text());
    insert.setString(9, entry.leafHash());
    insert.setString(10, entry.rootHash());
    insert.setString(11, entry.subtreeHash().orElse(null));
    insert.addBatch();
    lastAt = statement.at().atOffset(ZoneOffset.UTC);
  }

  private java.time.OffsetDateTime lastAt;

  /** Writes what was appended, and moves the head. */
  public void flush() throws SQLException {
    if (lastAt == null) {
      return;
    }
    insert.executeBatch();
    try (PreparedStatement update =
        connection.prepareStatement("update record_log_head set size = ?, root_hash = ?, peaks = ?, last_at = ?")) {
      update.setLong(1, tree.size());
      update.setString(2, tree.head().root());
      update.setString(3, tree.peaks());
      update.setObject(4, lastAt);
      update.executeUpdate();
    }
  }

  @Override
  public void close() throws SQLException {
    insert.close();
  }
}

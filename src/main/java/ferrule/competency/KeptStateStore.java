package ferrule.competency;

import static ferrule.store.jooq.Tables.KEPT_PROGRESS;
import static ferrule.store.jooq.Tables.NEW_EVIDENCE;

import ferrule.store.Database;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.exception.DataAccessException;

/**
 * What is kept of everyone in the least, in the memory of this node, so that a page over ten thousand apprentices does not
 * read as many rows. It is never older than the database: each look reads what was kept since the last one, whose numbers
 * are higher because they are given in the order of the commits, and about whom there is a note of new evidence, both in
 * one snapshot. If rows were removed there are fewer than are remembered, and all are read again.
 */
final class KeptStateStore {

  private static final long NOTHING = -1;

  private record Row(String basis, Instant from, Instant until, ProgressStore.Kept kept) {}

  private final Database database;
  private final String basis;
  private final Map<UUID, Row> rows = new HashMap<>();
  private long seen = NOTHING;

  KeptStateStore(Database database, String basis) {
    this.database = database;
    this.basis = basis;
  }

  /** The least of how everyone stood at an instant about whom what is kept holds. */
  synchronized Map<UUID, ProgressStore.Kept> holding(Instant asOf) {
    Set<UUID> noted = database.reading(this::catchUp);
    Map<UUID, ProgressStore.Kept> holding = new HashMap<>(rows.size() * 2);
    rows.forEach((who, row) -> {
      if (row.basis().equals(basis) && !row.from().isAfter(asOf) && row.until().isAfter(asOf) && !noted.contains(who)) {
        holding.put(who, row.kept());
      }
    });
    return holding;
  }

  /** Reads what came since; returns about whom there is a note. */
  private Set<UUID> catchUp(DSLContext dsl) {
    readSince(dsl);
    if (rows.size() != dsl.fetchCount(KEPT_PROGRESS)) {
      rows.clear();
      seen = NOTHING;
      readSince(dsl);
    }
    return new HashSet<>(dsl.selectDistinct(NEW_EVIDENCE.PERSON_ID).from(NEW_EVIDENCE).fetch(NEW_EVIDENCE.PERSON_ID));
  }

  private void readSince(DSLContext dsl) {
    // all at first: as rows of the driver, because a record of jOOQ for each takes three times as long
    try (ResultSet found = dsl
        .select(
            KEPT_PROGRESS.PERSON_ID, KEPT_PROGRESS.NUMBER, KEPT_PROGRESS.EDITION, KEPT_PROGRESS.BASIS,
            KEPT_PROGRESS.JUDGED_AT, KEPT_PROGRESS.HOLDS_UNTIL, KEPT_PROGRESS.STATES, KEPT_PROGRESS.AHEAD,
            KEPT_PROGRESS.LAST_WORK)
        .from(KEPT_PROGRESS)
        .where(KEPT_PROGRESS.NUMBER.gt(seen))
        .fetchResultSet()) {
      long highest = seen;
      while (found.next()) {
        rows.put(found.getObject(1, UUID.class), row(found));
        highest = Math.max(highest, found.getLong(2));
      }
      seen = highest;
    } catch (SQLException e) {
      throw new DataAccessException("what is kept could not be read", e);
    }
  }

  private static Row row(ResultSet found) throws SQLException {
    return new Row(
        found.getString(4).intern(), instant(found, 5), instant(found, 6),
        new ProgressStore.Kept(
            found.getString(3).intern(),
            new States(found.getString(7), found.getString(8), Optional.ofNullable(instant(found, 9)))));
  }

  private static Instant instant(ResultSet found, int column) throws SQLException {
    OffsetDateTime moment = found.getObject(column, OffsetDateTime.class);
    return moment == null ? null : moment.toInstant();
  }
}

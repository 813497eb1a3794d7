package ferrule.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Collections;
import java.util.Map;
import java.util.WeakHashMap;
import javax.sql.DataSource;
import org.jooq.ConnectionProvider;
import org.jooq.exception.DataAccessException;

/**
 * Hands out the connections of one pool in turn, each set to one schema before it is used.
 *
 * <p>The pool hands connections back as they were left, so the schema that each was last set to is remembered by the
 * connection itself: where a pool serves a single schema nothing is ever asked of the server.
 */
final class SchemaConnections implements ConnectionProvider {

  private final DataSource pool;
  private final Turns turns;
  private final String schema;
  private final String atFirst;
  private final Map<Connection, String> last;

  private SchemaConnections(
      DataSource pool, Turns turns, String schema, String atFirst, Map<Connection, String> last) {
    this.pool = pool;
    this.turns = turns;
    this.schema = schema;
    this.atFirst = atFirst;
    this.last = last;
  }

  /** Those of a pool whose new connections are at this schema, left there. */
  static SchemaConnections of(DataSource pool, Turns turns, String schema) {
    return new SchemaConnections(pool, turns, schema, schema, Collections.synchronizedMap(new WeakHashMap<>()));
  }

  /** Those of the same pool, set to another schema. */
  SchemaConnections at(String other) {
    return new SchemaConnections(pool, turns, other, atFirst, last);
  }

  /** The schema that they are set to. */
  String schema() {
    return schema;
  }

  /** How many wait for one. */
  int waiting() {
    return turns.waiting();
  }

  @Override
  public Connection acquire() {
    try {
      turns.take(Database.CONNECTION_WITHIN);
      return taken();
    } catch (SQLException e) {
      throw new DataAccessException("no connection to the database: " + e.getMessage(), e);
    }
  }

  private Connection taken() throws SQLException {
    try {
      return atSchema(pool.getConnection());
    } catch (SQLException | RuntimeException | Error e) {
      turns.giveBack();
      throw e;
    }
  }

  private Connection atSchema(Connection connection) throws SQLException {
    try {
      set(connection);
      return connection;
    } catch (SQLException | RuntimeException | Error e) {
      connection.close();
      throw e;
    }
  }

  private void set(Connection connection) throws SQLException {
    Connection physical = connection.unwrap(Connection.class);
    if (!last.getOrDefault(physical, atFirst).equals(schema)) {
      // outside any transaction: one that is rolled back would take the setting back with it
      connection.setSchema(schema);
      last.put(physical, schema);
    }
  }

  @Override
  public void release(Connection connection) {
    try {
      connection.close();
    } catch (SQLException e) {
      throw new DataAccessException("a connection could not be given back: " + e.getMessage(), e);
    } finally {
      turns.giveBack();
    }
  }
}

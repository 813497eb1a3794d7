package ferrule.app;

import java.lang.reflect.Field;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import org.h2.engine.SessionLocal;
import org.h2.jdbc.JdbcConnection;
import org.h2.mvstore.MVStore;

/**
 * Lets the embedded database gather a gigabyte of changes before it writes them, while it is filled. By itself it writes
 * after every commit and every few megabytes, and each time all pages of an index that random ids have touched, so that
 * a school of a few gigabytes takes many times as much room on the way.
 */
final class BulkH2 {

  private static final int GATHERED = 1 << 30;
  private static final int CACHE_MB = 1_024;

  private BulkH2() {}

  /** Lets it gather from now on; a failure of the machine loses what was gathered, and filling goes on from there. */
  static void gather(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("set write_delay 600000");
    }
    MVStore store = ((SessionLocal) connection.unwrap(JdbcConnection.class).getSession()).getDatabase().getStore().getMvStore();
    store.setCacheSize(CACHE_MB);
    try {
      Field bound = MVStore.class.getDeclaredField("autoCommitMemory");
      bound.setAccessible(true);
      bound.setInt(store, GATHERED);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException("this version of the embedded database bounds what it gathers in another way", e);
    }
  }

  /** Lets it write after every commit again. */
  static void asBefore(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("set write_delay 0");
    }
  }
}

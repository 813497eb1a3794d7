package ferrule.store;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import java.util.Properties;
import org.jooq.SQLDialect;

/** Asks a database whether it answers, on a connection of its own, so that no request can hold it up. */
public final class DatabaseProbe implements AutoCloseable {

  private static final int WITHIN_SECONDS = 5;

  private final DatabaseUrl url;
  private final Properties properties = new Properties();
  private Connection connection;

  /** A probe for the database at this address; it connects when it is first asked. */
  public DatabaseProbe(DatabaseUrl url, Optional<String> user, Optional<String> password) {
    this.url = url;
    user.ifPresent(u -> properties.setProperty("user", u));
    password.ifPresent(p -> properties.setProperty("password", p));
    if (url.dialect() == SQLDialect.POSTGRES) {
      String seconds = String.valueOf(WITHIN_SECONDS);
      properties.setProperty("connectTimeout", seconds);
      properties.setProperty("loginTimeout", seconds);
      properties.setProperty("socketTimeout", seconds);
    }
  }

  /** What is wrong with it; empty if it answers. */
  public synchronized Optional<StoreTrouble> trouble() {
    try {
      if (connection == null) {
        connection = DriverManager.getConnection(url.jdbc(), properties);
      }
      try (Statement statement = connection.createStatement()) {
        statement.execute("select 1");
      }
      return Optional.empty();
    } catch (SQLException e) {
      close();
      return Optional.of(StoreTrouble.of(e).orElse(StoreTrouble.UNREACHABLE));
    }
  }

  @Override
  public synchronized void close() {
    if (connection == null) {
      return;
    }
    try {
      connection.close();
    } catch (SQLException e) {
      // it was broken already
    }
    connection = null;
  }
}

package ferrule.upkeep;

import ferrule.store.CannotOpen;
import ferrule.store.DatabaseUrl;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Optional;
import java.util.Properties;
import org.jooq.SQLDialect;

/**
 * Where a database is, and who opens it.
 *
 * @param url its address
 * @param user where the server asks for one
 * @param password where the server asks for one
 */
public record Address(DatabaseUrl url, Optional<String> user, Optional<String> password) {

  /**
   * A connection of its own, outside any pool.
   *
   * @throws CannotOpen if there is none to be had; the message says why
   */
  Connection connect() {
    Properties properties = new Properties();
    user.ifPresent(u -> properties.setProperty("user", u));
    password.ifPresent(p -> properties.setProperty("password", p));
    if (isPostgres()) {
      properties.setProperty("reWriteBatchedInserts", "true");
    }
    try {
      return DriverManager.getConnection(url.jdbc(), properties);
    } catch (SQLException e) {
      throw CannotOpen.of(url, e);
    }
  }

  boolean isPostgres() {
    return url.dialect() == SQLDialect.POSTGRES;
  }
}

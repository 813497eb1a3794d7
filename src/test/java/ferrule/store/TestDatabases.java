package ferrule.store;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Named;

/**
 * Empty, migrated databases for tests: H2 in memory and a real PostgreSQL server. A test class runs on both with
 * {@code @ParameterizedClass @MethodSource("ferrule.store.TestDatabases#both")} and a constructor that takes the
 * supplier.
 */
public final class TestDatabases {

  private static EmbeddedPostgres server;

  private TestDatabases() {}

  /** One supplier for each kind of database. */
  public static Stream<Named<Supplier<Database>>> both() {
    return Stream.of(
        Named.of("H2", TestDatabases::h2), Named.of("PostgreSQL", TestDatabases::postgres));
  }

  /** A new database of H2 in memory. */
  public static Database h2() {
    return Database.open(DatabaseUrl.h2Memory("test-" + UUID.randomUUID()));
  }

  /** A new database on a PostgreSQL server that is started once and stops with the tests. */
  public static Database postgres() {
    String name = "t" + UUID.randomUUID().toString().replace("-", "");
    EmbeddedPostgres running = server();
    try (var connection = running.getPostgresDatabase().getConnection();
        var statement = connection.createStatement()) {
      statement.execute("create database " + name);
    } catch (java.sql.SQLException e) {
      throw new IllegalStateException("no test database could be made", e);
    }
    return Database.open(
        DatabaseUrl.parse(running.getJdbcUrl("postgres", name)), Optional.of("postgres"), Optional.empty());
  }

  private static synchronized EmbeddedPostgres server() {
    if (server == null) {
      try {
        server = EmbeddedPostgres.builder().start();
      } catch (IOException e) {
        throw new UncheckedIOException("no PostgreSQL server could be started", e);
      }
    }
    return server;
  }
}

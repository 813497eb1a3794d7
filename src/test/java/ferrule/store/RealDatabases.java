package ferrule.store;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Named;

/**
 * Fresh databases for tests of stores: a real H2 and a real PostgreSQL, both with every migration applied.
 *
 * <p>Use: {@code @ParameterizedTest @MethodSource("ferrule.store.RealDatabases#each")} on a test that takes a
 * {@link Database} and closes it.
 */
public final class RealDatabases {

  /** A database on the server with every migration applied and nothing else done: copying it is faster than migrating. */
  private static final String MIGRATED = "migrated";

  private static EmbeddedPostgres server;

  private RealDatabases() {}

  /** One fresh database of each sort. */
  public static Stream<Named<Database>> each() {
    return Stream.of(Named.of("H2", h2()), Named.of("PostgreSQL", postgres()));
  }

  /**
   * A way to make fresh ones of each sort, for a class that wants one for each of its tests:
   * {@code @ParameterizedClass @MethodSource("ferrule.store.RealDatabases#makers")}.
   */
  public static Stream<Named<Supplier<Database>>> makers() {
    return Stream.of(Named.of("H2", RealDatabases::h2), Named.of("PostgreSQL", RealDatabases::postgres));
  }

  /** A fresh H2 database in memory. */
  public static Database h2() {
    return Database.open(DatabaseUrl.h2Memory("test" + UUID.randomUUID()));
  }

  /** A fresh H2 database in memory that this script makes. */
  public static Database h2(Path script) {
    DatabaseUrl url = DatabaseUrl.h2Memory("test" + UUID.randomUUID());
    try (Connection connection = DriverManager.getConnection(url.jdbc(), "", "")) {
      connection.createStatement().execute("runscript from '" + script + "'");
    } catch (SQLException e) {
      throw new IllegalStateException("the script did not make a database", e);
    }
    return Database.open(url);
  }

  /** A fresh database on a PostgreSQL server that starts once for all tests. */
  public static Database postgres() {
    return Database.open(made(" template " + MIGRATED), Optional.of("postgres"), Optional.empty());
  }

  /** The address of a new database on that server, without any table; its user is {@code postgres}. */
  public static DatabaseUrl emptyPostgres() {
    return made("");
  }

  private static DatabaseUrl made(String like) {
    String name = "test" + UUID.randomUUID().toString().replace("-", "");
    EmbeddedPostgres running = running();
    make(running, name + like);
    return DatabaseUrl.parse(running.getJdbcUrl("postgres", name));
  }

  private static void make(EmbeddedPostgres running, String database) {
    try (Connection connection = running.getPostgresDatabase().getConnection()) {
      connection.createStatement().execute("create database " + database);
    } catch (SQLException e) {
      throw new IllegalStateException("the test server did not make a database", e);
    }
  }

  private static synchronized EmbeddedPostgres running() {
    if (server == null) {
      try {
        server = EmbeddedPostgres.builder().start();
      } catch (IOException e) {
        throw new UncheckedIOException("PostgreSQL did not start", e);
      }
      make(server, MIGRATED);
      DatabaseUrl migrated = DatabaseUrl.parse(server.getJdbcUrl("postgres", MIGRATED));
      Database.open(migrated, Optional.of("postgres"), Optional.empty()).close();
    }
    return server;
  }
}

package ferrule.app;

import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;

/** A database for measurements that stays from one run to the next: {@code h2:FOLDER}, {@code pg:FOLDER} or a JDBC address. */
record SchoolDatabase(Database database, Optional<EmbeddedPostgres> server) implements AutoCloseable {

  static SchoolDatabase open(String where, Optional<String> user) throws IOException, SQLException {
    if (where.startsWith("h2:")) {
      return new SchoolDatabase(
          Database.open(DatabaseUrl.h2File(Path.of(where.substring(3)), "school")), Optional.empty());
    }
    if (!where.startsWith("pg:")) {
      return new SchoolDatabase(Database.open(DatabaseUrl.parse(where), user, Optional.empty()), Optional.empty());
    }
    Path folder = Path.of(where.substring(3)).toAbsolutePath();
    Files.createDirectories(folder);
    EmbeddedPostgres server = EmbeddedPostgres.builder()
        .setDataDirectory(folder.resolve("data")).setCleanDataDirectory(false).start();
    try (Connection connection = server.getPostgresDatabase().getConnection();
        var rows = connection.createStatement().executeQuery("select 1 from pg_database where datname = 'school'")) {
      if (!rows.next()) {
        connection.createStatement().execute("create database school");
      }
    }
    DatabaseUrl url = DatabaseUrl.parse(server.getJdbcUrl("postgres", "school"));
    return new SchoolDatabase(Database.open(url, Optional.of("postgres"), Optional.empty()), Optional.of(server));
  }

  /** Makes an embedded database, which must be closed, as small as it can be; a server looks after that by itself. */
  static void compact(String where) throws SQLException {
    if (where.startsWith("h2:")) {
      try (Connection connection = DriverManager.getConnection(DatabaseUrl.h2File(Path.of(where.substring(3)), "school").jdbc());
          Statement statement = connection.createStatement()) {
        statement.execute("shutdown compact");
      }
    }
  }

  @Override
  public void close() throws IOException {
    database.close();
    if (server.isPresent()) {
      server.get().close();
    }
  }
}

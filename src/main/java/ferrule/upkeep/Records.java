package ferrule.upkeep;

import ferrule.store.Database;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.flywaydb.core.api.MigrationVersion;

/** All tables of a database, read as of one moment, or filled. */
final class Records {

  private Records() {}

  /** A table's rows are given to this, one line after the other. */
  interface Lines {
    void accept(String line) throws SQLException;
  }

  /** Gives a table's rows to a reader of lines. */
  interface Source {
    void read(String schema, String table, Lines lines) throws SQLException;
  }

  /** Sees to it that all that is read on this connection is as of one moment, while others go on writing. */
  static void freeze(Address address, Connection connection) throws SQLException {
    connection.setAutoCommit(false);
    try (Statement statement = connection.createStatement()) {
      // a snapshot of all tables; that of H2's "repeatable read" is taken table by table
      statement.execute(address.isPostgres()
          ? "set transaction isolation level repeatable read, read only"
          : "set session characteristics as transaction isolation level snapshot");
    }
  }

  /** The versions of the migrations that have run in a schema. */
  static List<String> migrations(Connection connection, String schema) throws SQLException {
    List<String> versions = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery("select \"version\" from " + schema + ".\"" + Table.HISTORY
            + "\" where \"version\" is not null and \"success\" order by \"installed_rank\"")) {
      while (rows.next()) {
        versions.add(rows.getString(1));
      }
    }
    return versions;
  }

  /** What a schema is called in a copy: the first one is in whatever schema a database begins with. */
  static String nameInCopy(Connection connection, String schema) throws SQLException {
    return schema.equals(connection.getSchema()) ? "" : schema;
  }

  /** Whether this database has nothing of Ferrule's yet. */
  static boolean isClean(Connection connection) throws SQLException {
    return Table.schemas(connection).isEmpty();
  }

  /**
   * Makes the tables that a copy was taken from, as they were, and fills them; then reads all of it again and compares.
   *
   * @throws IllegalStateException if what was read again is not what was given; the message says where
   */
  static void fill(Address address, Manifest manifest, Source source) throws SQLException {
    for (Manifest.Schema schema : manifest.schemas()) {
      Optional<String> other = Optional.of(schema.name()).filter(name -> !name.isEmpty());
      String last = schema.migrations().stream().max(Records::compareVersions).orElseThrow();
      Database.migrateTo(address.url(), address.user(), address.password(), other, last);
      try (Connection connection = address.connect()) {
        String place = other.orElse(connection.getSchema());
        expectSameMigrations(schema, migrations(connection, place));
        connection.setAutoCommit(false);
        fill(connection, place, schema, source);
        connection.commit();
        compare(connection, place, schema);
      }
    }
  }

  private static int compareVersions(String a, String b) {
    return MigrationVersion.fromVersion(a)
        .compareTo(MigrationVersion.fromVersion(b));
  }

  private static void expectSameMigrations(Manifest.Schema schema, List<String> here) {
    if (!new TreeSet<>(here).equals(new TreeSet<>(schema.migrations()))) {
      throw new IllegalStateException("the copy is from a program with other tables (" + schema.migrations()
          + ") than this one makes (" + here + "): use the program that made it, or a newer one");
    }
  }

  private static void fill(Connection connection, String place, Manifest.Schema schema, Source source)
      throws SQLException {
    List<Table> tables = Table.in(connection, place);
    List<Table> backward = new ArrayList<>(tables);
    Collections.reverse(backward);
    try (Statement statement = connection.createStatement()) {
      for (Table table : backward) {
        statement.executeUpdate("delete from " + place + "." + table.name()); // what the migrations put there
      }
    }
    for (Table table : tables) {
      try (Rows.Loader loader = new Rows(place, table).new Loader(connection)) {
        source.read(schema.name(), table.name(), loader::add);
        loader.finish();
      } catch (SQLException e) {
        throw new IllegalStateException("the rows of " + table.name() + " cannot be taken in: " + e.getMessage(), e);
      }
    }
  }

  private static void compare(Connection connection, String place, Manifest.Schema schema) throws SQLException {
    List<Manifest.Content> found = contents(connection, place);
    for (Manifest.Content expected : schema.tables()) {
      if (!found.contains(expected)) {
        throw new IllegalStateException("the rows of " + expected.table() + " are not those of the copy");
      }
    }
  }

  /** What the tables of a schema hold. */
  static List<Manifest.Content> contents(Connection connection, String place) throws SQLException {
    List<Manifest.Content> contents = new ArrayList<>();
    for (Table table : Table.in(connection, place)) {
      RowSum sum = new RowSum();
      new Rows(place, table).read(connection, sum::add);
      contents.add(new Manifest.Content(table.name(), sum.rows(), sum.hex()));
    }
    return contents;
  }

  /** Takes everything away from a database that was clean before it was filled. */
  static void empty(Address address) throws SQLException {
    try (Connection connection = address.connect(); Statement statement = connection.createStatement()) {
      String first = connection.getSchema();
      for (String schema : Table.schemas(connection)) {
        if (schema.equals(first)) {
          List<Table> backward = new ArrayList<>(Table.in(connection, schema));
          Collections.reverse(backward);
          for (Table table : backward) {
            statement.executeUpdate("drop table " + schema + "." + table.name());
          }
          statement.executeUpdate("drop table " + schema + ".\"" + Table.HISTORY + "\"");
        } else {
          statement.executeUpdate("drop schema " + schema + " cascade");
        }
      }
    }
  }
}

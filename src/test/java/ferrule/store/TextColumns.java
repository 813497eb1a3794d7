package ferrule.store;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/** Every column of text in a database, by its own account. */
public final class TextColumns {

  private static final Set<Integer> TEXT =
      Set.of(Types.CHAR, Types.VARCHAR, Types.LONGVARCHAR, Types.CLOB, Types.NVARCHAR, Types.NCHAR, Types.NCLOB);

  private TextColumns() {}

  /** A column. */
  public record Column(String table, String name) {

    @Override
    public String toString() {
      return table + "." + name;
    }
  }

  /** The columns of text of every table but that of the migrations. */
  public static List<Column> in(Database database) {
    return database.dsl().connectionResult(TextColumns::in);
  }

  private static List<Column> in(Connection connection) throws SQLException {
    List<Column> columns = new ArrayList<>();
    DatabaseMetaData data = connection.getMetaData();
    Set<String> tables = new java.util.HashSet<>();
    try (ResultSet found = data.getTables(null, connection.getSchema(), "%", new String[] {"TABLE", "BASE TABLE"})) {
      while (found.next()) {
        tables.add(found.getString("TABLE_NAME"));
      }
    }
    try (ResultSet found = data.getColumns(null, connection.getSchema(), "%", "%")) {
      while (found.next()) {
        String table = found.getString("TABLE_NAME");
        if (tables.contains(table) && !table.equalsIgnoreCase("flyway_schema_history")
            && TEXT.contains(found.getInt("DATA_TYPE"))) {
          columns.add(new Column(table.toLowerCase(Locale.ROOT), found.getString("COLUMN_NAME").toLowerCase(Locale.ROOT)));
        }
      }
    }
    return columns;
  }
}

package ferrule.upkeep;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * A table as it is found in a database, without knowing what it is for.
 *
 * @param name of the table
 * @param columns what each holds, in the order of the table
 * @param key the columns of its primary key, in order; empty if it has none
 * @param numbered its columns in which the database counts rows itself
 * @param intoItself its columns that point at other rows of the same table
 */
record Table(String name, Map<String, Kind> columns, List<String> key, Set<String> intoItself, Set<String> numbered) {

  /** Where Flyway notes which migrations have run: each database keeps its own. */
  static final String HISTORY = "flyway_schema_history";

  /** Copies what it is given. */
  Table {
    columns = Collections.unmodifiableMap(new LinkedHashMap<>(columns));
    key = List.copyOf(key);
    intoItself = Set.copyOf(intoItself);
    numbered = Set.copyOf(numbered);
  }

  /** The schemas of this database in which Ferrule keeps tables: first the one that the connection is at. */
  static List<String> schemas(Connection connection) throws SQLException {
    String first = connection.getSchema();
    TreeSet<String> found = new TreeSet<>();
    try (ResultSet tables = connection.getMetaData().getTables(null, null, HISTORY, null)) {
      while (tables.next()) {
        found.add(tables.getString("TABLE_SCHEM"));
      }
    }
    List<String> schemas = new ArrayList<>();
    if (found.remove(first)) {
      schemas.add(first);
    }
    schemas.addAll(found);
    return schemas;
  }

  /**
   * The tables of a schema but Flyway's, in an order in which each comes after those that it points at.
   *
   * @throws IllegalStateException if tables point at each other in a circle
   */
  static List<Table> in(Connection connection, String schema) throws SQLException {
    DatabaseMetaData meta = connection.getMetaData();
    Map<String, Set<String>> pointsAt = new TreeMap<>();
    Map<String, Table> tables = new HashMap<>();
    for (String name : names(meta, schema)) {
      Set<String> targets = new TreeSet<>();
      Set<String> intoItself = new TreeSet<>();
      try (ResultSet keys = meta.getImportedKeys(null, schema, name)) {
        while (keys.next()) {
          if (keys.getString("PKTABLE_NAME").equals(name)) {
            intoItself.add(keys.getString("FKCOLUMN_NAME"));
          } else {
            targets.add(keys.getString("PKTABLE_NAME"));
          }
        }
      }
      pointsAt.put(name, targets);
      Set<String> numbered = new TreeSet<>();
      Map<String, Kind> columns = columns(connection, schema, name, numbered);
      tables.put(name, new Table(name, columns, key(meta, schema, name), intoItself, numbered));
    }
    return inOrder(pointsAt).stream().map(tables::get).toList();
  }

  private static List<String> names(DatabaseMetaData meta, String schema) throws SQLException {
    List<String> names = new ArrayList<>();
    try (ResultSet tables = meta.getTables(null, schema, "%", new String[] {"TABLE", "BASE TABLE"})) {
      while (tables.next()) {
        String name = tables.getString("TABLE_NAME");
        if (!name.equals(HISTORY)) {
          names.add(name);
        }
      }
    }
    return names;
  }

  private static Map<String, Kind> columns(
      Connection connection, String schema, String name, Set<String> numbered) throws SQLException {
    Map<String, Kind> columns = new LinkedHashMap<>();
    try (Statement statement = connection.createStatement();
        ResultSet none = statement.executeQuery("select * from " + schema + "." + name + " where 1 = 0")) {
      ResultSetMetaData meta = none.getMetaData();
      for (int i = 1; i <= meta.getColumnCount(); i++) {
        columns.put(meta.getColumnName(i), Kind.of(meta.getColumnTypeName(i)));
        if (meta.isAutoIncrement(i)) {
          numbered.add(meta.getColumnName(i));
        }
      }
    }
    return columns;
  }

  private static List<String> key(DatabaseMetaData meta, String schema, String name) throws SQLException {
    TreeMap<Integer, String> key = new TreeMap<>();
    try (ResultSet columns = meta.getPrimaryKeys(null, schema, name)) {
      while (columns.next()) {
        key.put(columns.getInt("KEY_SEQ"), columns.getString("COLUMN_NAME"));
      }
    }
    return List.copyOf(key.values());
  }

  private static List<String> inOrder(Map<String, Set<String>> pointsAt) {
    List<String> order = new ArrayList<>();
    Set<String> left = new TreeSet<>(pointsAt.keySet());
    while (!left.isEmpty()) {
      List<String> free = left.stream()
          .filter(name -> pointsAt.get(name).stream().noneMatch(left::contains))
          .collect(Collectors.toList());
      if (free.isEmpty()) {
        throw new IllegalStateException("these tables point at each other in a circle: " + left);
      }
      order.addAll(free);
      left.removeAll(free);
    }
    return order;
  }
}

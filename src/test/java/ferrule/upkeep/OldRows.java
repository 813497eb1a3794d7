package ferrule.upkeep;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * The rows of a database that an older program left, by tables and columns that it knew.
 *
 * @param columns of each table
 * @param sums of each table's rows in those columns, and how many they are
 */
public record OldRows(Map<String, Set<String>> columns, Map<String, String> sums) {

  /** The tables of a schema; asking a database for them takes longer than reading what is in them. */
  public static final class Schema {

    private final List<Table> tables;

    private Schema(List<Table> tables) {
      this.tables = tables;
    }

    /** That which this connection is at. */
    public static Schema of(Connection connection) throws SQLException {
      return new Schema(Table.in(connection, connection.getSchema()));
    }
  }

  /**
   * What is in the schema that this connection is at.
   *
   * @param without names of columns that are left out
   */
  public static OldRows in(Connection connection, Schema schema, Set<String> without) throws SQLException {
    Map<String, Set<String>> columns = new TreeMap<>();
    List<Table> tables = schema.tables;
    for (Table table : tables) {
      Set<String> kept = new TreeSet<>(table.columns().keySet());
      kept.removeAll(without);
      columns.put(table.name(), kept);
    }
    return new OldRows(columns, sums(connection, tables, columns));
  }

  /** The same tables and columns as they are later. */
  public OldRows now(Connection connection, Schema schema) throws SQLException {
    return new OldRows(columns, sums(connection, schema.tables, columns));
  }

  /** How many rows a table has. */
  public long count(String table) {
    return Long.parseLong(sums.get(table).replaceFirst(" .*", ""));
  }

  private static Map<String, String> sums(Connection connection, List<Table> tables, Map<String, Set<String>> columns)
      throws SQLException {
    Map<String, String> sums = new TreeMap<>();
    for (Table table : tables) {
      if (columns.containsKey(table.name())) {
        RowSum sum = new RowSum();
        new Rows(connection.getSchema(), only(table, columns.get(table.name()))).read(connection, sum::add);
        sums.put(table.name(), sum.rows() + " rows " + sum.hex());
      }
    }
    return sums;
  }

  /** Copies what both databases have a table and columns for, in place of what the migrations put there. */
  public static void copy(Connection from, Schema left, Connection into, Schema schema) throws SQLException {
    Map<String, Table> old = left.tables.stream().collect(Collectors.toMap(Table::name, t -> t));
    List<Table> tables = schema.tables;
    into.setAutoCommit(false);
    List<Table> backward = new ArrayList<>(tables.stream().filter(t -> old.containsKey(t.name())).toList());
    Collections.reverse(backward);
    try (Statement statement = into.createStatement()) {
      for (Table table : backward) {
        statement.executeUpdate("delete from " + table.name());
      }
    }
    for (Table table : tables) {
      if (old.containsKey(table.name())) {
        Set<String> both = new TreeSet<>(table.columns().keySet());
        both.retainAll(old.get(table.name()).columns().keySet());
        try (Rows.Loader loader = new Rows(into.getSchema(), only(table, both)).new Loader(into)) {
          new Rows(from.getSchema(), only(old.get(table.name()), both)).read(from, loader::add);
          loader.finish();
        }
      }
    }
    into.commit();
    into.setAutoCommit(true);
  }

  private static Table only(Table table, Collection<String> columns) {
    Map<String, Kind> kept = new LinkedHashMap<>(table.columns());
    kept.keySet().retainAll(columns);
    List<String> key = columns.containsAll(table.key()) ? table.key() : List.of();
    return new Table(table.name(), kept, key, both(table.intoItself(), columns), both(table.numbered(), columns));
  }

  private static Set<String> both(Set<String> some, Collection<String> others) {
    return some.stream().filter(others::contains).collect(Collectors.toSet());
  }
}

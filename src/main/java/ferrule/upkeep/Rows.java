package ferrule.upkeep;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * The rows of one table as lines of text: a JSON array of the values as {@link Kind} writes them, by the columns' names in
 * the order of the alphabet, so that a row is the same line from every database.
 */
final class Rows {

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int STRETCH = 2_000;

  private final String place;
  private final Table table;
  private final List<String> names;
  private final List<Kind> kinds;

  Rows(String schema, Table table) {
    this.place = schema + "." + table.name();
    this.table = table;
    Map<String, Kind> sorted = new TreeMap<>(table.columns());
    this.names = List.copyOf(sorted.keySet());
    this.kinds = List.copyOf(sorted.values());
  }

  /** Gives every row to a reader. By the key, because an embedded database lays a whole result down before the first row. */
  void read(Connection connection, Records.Lines reader) throws SQLException {
    if (table.key().isEmpty()) {
      try (PreparedStatement all = connection.prepareStatement("select " + String.join(", ", names) + " from " + place)) {
        read(all, reader);
      }
      return;
    }
    Optional<List<Optional<String>>> last = Optional.empty();
    do {
      try (PreparedStatement stretch = connection.prepareStatement(stretch(last.isPresent()))) {
        for (int i = 0; last.isPresent() && i < table.key().size(); i++) {
          int column = names.indexOf(table.key().get(i));
          kinds.get(column).write(stretch, i + 1, last.get().get(column));
        }
        last = read(stretch, reader);
      }
    } while (last.isPresent());
  }

  private String stretch(boolean afterOne) {
    String key = String.join(", ", table.key());
    String after = afterOne
        ? " where (" + key + ") > (" + String.join(", ", Collections.nCopies(table.key().size(), "?")) + ")" : "";
    return "select " + String.join(", ", names) + " from " + place + after + " order by " + key + " limit " + STRETCH;
  }

  /** The last row that was read, if there was one. */
  private Optional<List<Optional<String>>> read(PreparedStatement query, Records.Lines reader) throws SQLException {
    Optional<List<Optional<String>>> last = Optional.empty();
    try (ResultSet rows = query.executeQuery()) {
      while (rows.next()) {
        List<Optional<String>> values = new ArrayList<>(names.size());
        for (int i = 0; i < names.size(); i++) {
          values.add(kinds.get(i).read(rows, i + 1));
        }
        reader.accept(line(values));
        last = Optional.of(values);
      }
    }
    return last;
  }

  private static String line(List<Optional<String>> values) {
    try {
      return JSON.writeValueAsString(values.stream().map(v -> v.orElse(null)).toList().toArray());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("text can always be written as JSON", e);
    }
  }

  /** Takes rows in, as they were read from a table of the same columns. */
  final class Loader implements AutoCloseable {

    private static final int BATCH = 1_000;

    private final Connection connection;
    private final PreparedStatement insert;
    // what points at other rows of the table is set when all rows are there
    private final List<List<Optional<String>>> later = new ArrayList<>();
    private int waiting;

    Loader(Connection connection) throws SQLException {
      this.connection = connection;
      this.insert = connection.prepareStatement("insert into " + place + " (" + String.join(", ", names) + ") values ("
          + String.join(", ", Collections.nCopies(names.size(), "?")) + ")");
    }

    void add(String line) throws SQLException {
      List<Optional<String>> values = values(line);
      boolean pointsBack = false;
      for (int i = 0; i < names.size(); i++) {
        boolean back = table.intoItself().contains(names.get(i)) && values.get(i).isPresent();
        pointsBack |= back;
        kinds.get(i).write(insert, i + 1, back ? Optional.empty() : values.get(i));
      }
      if (pointsBack) {
        later.add(values);
      }
      insert.addBatch();
      if (++waiting == BATCH) {
        insert.executeBatch();
        waiting = 0;
      }
    }

    void finish() throws SQLException {
      if (waiting > 0) {
        insert.executeBatch();
      }
      for (String column : table.numbered()) {
        countOn(column);
      }
      if (later.isEmpty()) {
        return;
      }
      List<String> back = List.copyOf(table.intoItself());
      String set = back.stream().map(c -> c + " = ?").collect(Collectors.joining(", "));
      String which = table.key().stream().map(c -> c + " = ?").collect(Collectors.joining(" and "));
      List<String> parameters = new ArrayList<>(back);
      parameters.addAll(table.key());
      try (PreparedStatement update =
          connection.prepareStatement("update " + place + " set " + set + " where " + which)) {
        for (List<Optional<String>> row : later) {
          for (int i = 0; i < parameters.size(); i++) {
            int column = names.indexOf(parameters.get(i));
            kinds.get(column).write(update, i + 1, row.get(column));
          }
          update.addBatch();
        }
        update.executeBatch();
      }
    }

    // the database counts on from the rows that are there now
    private void countOn(String column) throws SQLException {
      try (Statement statement = connection.createStatement();
          ResultSet most = statement.executeQuery("select coalesce(max(" + column + "), 0) + 1 from " + place)) {
        most.next();
        long next = most.getLong(1);
        try (Statement restart = connection.createStatement()) {
          restart.execute("alter table " + place + " alter column " + column + " restart with " + next);
        }
      }
    }

    @Override
    public void close() throws SQLException {
      insert.close();
    }

    private List<Optional<String>> values(String line) {
      try {
        String[] values = JSON.readValue(line, String[].class);
        if (values.length != names.size()) {
          throw new IllegalArgumentException(
              "a row of " + place + " has " + values.length + " values in place of " + names.size());
        }
        List<Optional<String>> all = new ArrayList<>(values.length);
        for (String value : values) {
          all.add(Optional.ofNullable(value));
        }
        return all;
      } catch (JsonProcessingException e) {
        throw new IllegalArgumentException("a row of " + place + " cannot be read: " + e.getOriginalMessage(), e);
      }
    }
  }
}

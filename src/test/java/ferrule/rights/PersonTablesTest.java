package ferrule.rights;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Consumer;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** That no table in which a person can stand is missing from what they are given, by the database's own account. */
class PersonTablesTest {

  /** Tables that hang from a person's rows by a foreign key and say nothing of the person. */
  private static final Map<String, String> NOT_ABOUT_A_PERSON = Map.of(
      "drill_assignment", "what a whole class is asked; who set it is in done/",
      "drill_ruling", "about a word, not a person; who ruled is in done/",
      "drill_ruling_undone", "the same",
      "paper_sheet", "what is printed for a whole class",
      "paper_item", "the same",
      "long_work", "a bundle that a coordinator asked for",
      "long_work_piece", "the bytes of it",
      "tablet", "a device that many use",
      "cohort_move", "about a cohort");

  /** Columns with an id of a person's that are no foreign key, found by their names. */
  private static final String PERSON_LIKE = "person_id|apprentice_id|subject_id|about_id|who_id|instructor_id|grader_id|.*_by";

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyColumnThatNamesAPersonIsGivenAndEveryTableBelowTheirRowsToo(Database database) {
    Set<String> named = new TreeSet<>();
    Map<String, Set<String>> below = new HashMap<>();
    try (database) {
      database.dsl().connection(connection -> {
        DatabaseMetaData data = connection.getMetaData();
        String schema = connection.getSchema();
        rows(data.getColumns(null, schema, "%", "%"), row -> {
          if (row.get("column_name").matches(PERSON_LIKE)) {
            named.add(row.get("table_name") + "." + row.get("column_name"));
          }
        });
        List<String> tables = new ArrayList<>();
        rows(data.getTables(null, schema, "%", new String[] {"TABLE", "BASE TABLE"}), row -> tables.add(row.get("table_name")));
        for (String table : tables) {
          rows(data.getImportedKeys(null, schema, table), row -> {
            String parent = row.get("pktable_name");
            below.computeIfAbsent(parent, p -> new HashSet<>()).add(table);
            if (parent.equals("person")) {
              named.add(table + "." + row.get("fkcolumn_name"));
            }
          });
        }
      });
    }
    assertTrue(named.size() > 50, named.toString());
    Set<String> given = new TreeSet<>();
    PersonTables.BY.forEach(by -> given.add(by.table() + "." + by.column()));
    Set<String> about = new TreeSet<>();
    PersonTables.ABOUT.forEach(rows -> {
      about.add(rows.table());
      given.add(rows.table() + "." + rows.where().replaceFirst(" = \\?$", ""));
    });
    Set<String> missing = new TreeSet<>(named);
    missing.removeAll(given);
    // how a session was opened, the draft that a delivery is about, an entry of the log and the database's own user are no
    // persons
    missing.removeAll(Set.of("web_session.opened_by", "device_delivery.subject_id", "record_log.redacted_by",
        "flyway_schema_history.installed_by"));
    assertEquals(Set.of(), missing, "say in PersonTables what these are");

    Set<String> reached = new TreeSet<>(below.get("person"));
    for (List<String> next = List.copyOf(reached); !next.isEmpty();) {
      next = next.stream().filter(t -> !NOT_ABOUT_A_PERSON.containsKey(t))
          .flatMap(t -> below.getOrDefault(t, Set.of()).stream()).filter(reached::add).toList();
    }
    reached.removeAll(about);
    reached.removeAll(NOT_ABOUT_A_PERSON.keySet());
    assertEquals(Set.of(), reached, "tables below a person's rows that are neither given nor an exception");
  }

  private static void rows(ResultSet found, Consumer<Map<String, String>> reader) throws java.sql.SQLException {
    try (found) {
      while (found.next()) {
        Map<String, String> row = new HashMap<>();
        for (int i = 1; i <= found.getMetaData().getColumnCount(); i++) {
          String value = found.getString(i);
          row.put(found.getMetaData().getColumnLabel(i).toLowerCase(Locale.ROOT),
              value == null ? "" : value.toLowerCase(Locale.ROOT));
        }
        reader.accept(row);
      }
    }
  }
}

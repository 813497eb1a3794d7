package ferrule.rights;

import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.Person;
import ferrule.store.Database;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.sql.Types;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.jooq.DSLContext;

/** Puts a person's name wherever {@link ErasureTables} says that it may stand, so that each decision is tried. */
public final class ErasedRows {

  private final DSLContext dsl;
  private final Person who;
  private final String words;

  private ErasedRows(DSLContext dsl, Person who, String words) {
    this.dsl = dsl;
    this.who = who;
    this.words = words;
  }

  /** Makes a row in each table that has none of the person's, and writes these words into each column that is searched. */
  public static void fill(Database database, Person who, String words) {
    database.transact(dsl -> new ErasedRows(dsl, who, words).fill());
  }

  private void fill() {
    UUID draft = first("select id from grade_draft where apprentice_id = ?");
    UUID others = (UUID) dsl.fetchValue("select id from grade_draft where apprentice_id <> ? limit 1", who.id());
    UUID tablet = insert("tablet", Map.of("made_by", who.id()));
    UUID device = insert("known_device", Map.of("person_id", who.id()));
    UUID another = insert("known_device", Map.of("person_id", dsl.fetchValue(
        "select instructor_id from grade_draft where id = ?", draft)));
    insert("device_delivery", Map.of("device_id", device));
    insert("device_delivery", Map.of("device_id", another, "subject_id", draft, "seq", 1));
    insert("device_delivery", Map.of("device_id", another, "subject_id", others, "seq", 2));
    insert("tablet_person", Map.of("tablet_id", tablet, "person_id", who.id()));
    insert("audit_entry", Map.of("who_id", who.id(), "about_id", who.id(), "thing", "", "route", "", "role", ""));
    for (ErasureTables.Gone rows : ErasureTables.GONE) {
      if (count(rows) == 0) {
        insert(rows.table(), rows.where().startsWith("draft_id") ? Map.of("draft_id", draft) : Map.of("person_id", who.id()));
      }
      assertTrue(count(rows) > 0, rows.table());
    }
    fillPaperAndHours(draft);
    ErasureTables.SEARCHED.stream().filter(c -> !c.json()).forEach(this::write);
    ErasureTables.SEARCHED.stream().filter(ErasureTables.Searched::json).forEach(this::writeNote);
    ErasureTables.EMPTIED.stream().filter(c -> !c.column().equals("signature")).forEach(column -> assertTrue(
        dsl.execute("update " + column.table() + " set " + column.column() + " = ? where " + some(column.table(),
            column.column(), column.where()), words, who.id()) > 0, column.table() + "." + column.column()));
  }

  private void fillPaperAndHours(UUID draft) {
    UUID sitting = first("select id from drill_sitting where person_id = ?");
    UUID response = (UUID) dsl.fetchValue("select id from drill_response where sitting_id = ? limit 1", sitting);
    UUID cohort = first("select cohort_id from cohort_member where person_id = ?");
    UUID instructor = (UUID) dsl.fetchValue("select instructor_id from grade_draft where id = ?", draft);
    UUID regrade = insert("drill_regrade", Map.of(
        "response_id", response, "ordinal", 99, "ruling_id", dsl.fetchValue("select id from drill_ruling limit 1"),
        "verdict", dsl.fetchValue("select verdict from drill_response where id = ?", response)));
    UUID sheet = insert("paper_sheet", Map.of("cohort_id", cohort, "made_by", instructor, "title", "Sheet", "school", "S"));
    insert("paper_script", Map.of("sheet_id", sheet, "person_id", who.id()));
    insert("paper_tap", Map.of("sheet_id", sheet, "person_id", who.id(), "tapped_by", instructor));
    insert("paper_entry", Map.of("response_id", response, "entered_by", instructor));
    insert("paper_correction", Map.of("regrade_id", regrade, "corrected_by", instructor));
    for (UUID apprentice : List.of(who.id(), (UUID) dsl.fetchValue(
        "select apprentice_id from grade_draft where apprentice_id <> ? limit 1", who.id()))) {
      UUID hours = insert(
          "bench_hours", Map.of("apprentice_id", apprentice, "entered_by", instructor, "minutes", 60, "reason", ""));
      insert("bench_hours", Map.of("apprentice_id", apprentice, "entered_by", instructor, "minutes", 30, "corrects", hours));
      UUID grant = insert("equivalence", Map.of("apprentice_id", apprentice, "granted_by", instructor, "competency", "c"));
      insert("equivalence_withdrawal", Map.of("equivalence_id", grant, "withdrawn_by", instructor));
      var signed = dsl.fetch("select id, body from record_log where subject_id = ? and kind = 'sign-off'"
          + " order by number limit 1", apprentice).get(0);
      insert("second_grade", Map.of(
          "record_id", signed.get(0), "grader_id", dsl.fetchValue("select id from person where role = 'coordinator'"),
          "draft_id", dsl.fetchValue("select id from grade_draft where apprentice_id = ? limit 1", apprentice),
          "grade", signed.get(1)));
    }
  }

  /** Writes the words into the person's rows, and into one of somebody else's where those are searched. */
  private void write(ErasureTables.Searched column) {
    if (!column.own().startsWith("1 = 0") && !column.table().equals("cohort_move")) {
      assertTrue(dsl.execute("update " + column.table() + " set " + column.column() + " = ? where " + some(column.table(),
          column.column(), column.own()), words, who.id()) > 0, column.table() + "." + column.column());
    }
    if (column.others()) {
      assertTrue(dsl.execute("update " + column.table() + " set " + column.column() + " = ?"
              + " where " + some(column.table(), column.column(), "not (" + column.own() + ")"), words, who.id()) >= 0, column.table());
    }
  }

  // only a correction of hours has a reason
  private static String some(String table, String column, String where) {
    return where + (table.equals("bench_hours") && column.equals("reason") ? " and corrects is not null" : "");
  }

  private void writeNote(ErasureTables.Searched column) {
    for (String where : List.of(column.own(), "not (" + column.own() + ")")) {
      assertTrue(dsl.execute("update " + column.table() + " set " + column.column() + " = regexp_replace("
          + column.column() + ", '\"note\" *: *\"', '\"note\":\"" + words + " ') where " + where, who.id()) > 0,
          column.table() + " " + where);
    }
  }

  private UUID first(String sql) {
    return (UUID) dsl.fetchValue(sql + " limit 1", who.id());
  }

  private long count(ErasureTables.Gone rows) {
    return dsl.fetchSingle("select count(*) from " + rows.table() + " where " + rows.where(), who.id())
        .get(0, Long.class);
  }

  /** The tables in which rows are left that should be gone. */
  public static List<String> left(Database database, UUID who) {
    List<String> left = new ArrayList<>();
    for (ErasureTables.Gone rows : ErasureTables.GONE) {
      if (!database.dsl().fetch("select 1 from " + rows.table() + " where " + rows.where(), who).isEmpty()) {
        left.add(rows.table());
      }
    }
    return left;
  }

  /** A row with these values, and something that fits in every other column that must have a value. */
  private UUID insert(String table, Map<String, Object> given) {
    UUID id = UUID.randomUUID();
    Map<String, Object> values = new LinkedHashMap<>(given);
    dsl.connection(connection -> complete(connection, table, values, id));
    dsl.execute("insert into " + table + " (" + String.join(", ", values.keySet()) + ") values ("
        + String.join(", ", values.keySet().stream().map(v -> "?").toList()) + ")", values.values().toArray());
    return id;
  }

  private void complete(Connection connection, String table, Map<String, Object> values, UUID id) throws SQLException {
    try (ResultSet columns = connection.getMetaData().getColumns(null, connection.getSchema(), table, "%")) {
      while (columns.next()) {
        String name = columns.getString("COLUMN_NAME").toLowerCase(Locale.ROOT);
        boolean needed = columns.getString("IS_NULLABLE").equals("NO") && columns.getString("COLUMN_DEF") == null
            && !"YES".equals(columns.getString("IS_AUTOINCREMENT"));
        if (needed && !values.containsKey(name)) {
          values.put(name, name.equals("id") && !columns.getString("TYPE_NAME").toLowerCase(Locale.ROOT).contains("int")
              && !columns.getString("TYPE_NAME").toLowerCase(Locale.ROOT).contains("char") ? id
              : something(columns.getInt("DATA_TYPE"), columns.getString("TYPE_NAME"), columns.getInt("COLUMN_SIZE")));
        }
      }
    }
  }

  private Object something(int type, String name, int size) {
    if (name.toLowerCase(Locale.ROOT).contains("uuid")) {
      return UUID.randomUUID();
    }
    return switch (type) {
      case Types.INTEGER, Types.BIGINT, Types.SMALLINT -> 1;
      case Types.DOUBLE, Types.FLOAT -> 1.0;
      case Types.BOOLEAN, Types.BIT -> true;
      case Types.BINARY, Types.VARBINARY, Types.BLOB -> words.getBytes(StandardCharsets.UTF_8);
      case Types.DATE -> LocalDate.of(2026, 10, 1);
      case Types.TIMESTAMP, Types.TIMESTAMP_WITH_TIMEZONE -> Timestamp.from(Instant.parse("2026-10-01T18:00:00Z"));
      default -> UUID.randomUUID().toString().substring(0, Math.min(30, size));
    };
  }
}

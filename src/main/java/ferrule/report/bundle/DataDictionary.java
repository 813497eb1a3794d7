package ferrule.report.bundle;

import ferrule.report.table.Column;
import ferrule.report.table.Kind;
import ferrule.report.table.Table;
import ferrule.report.table.TableDefinition;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What every column of every table means, from the definitions of the tables themselves. */
public final class DataDictionary {

  /** A column of a table. */
  private record Entry(TableDefinition<?> table, Column column) {}

  private static final TableDefinition<Entry> COLUMNS =
      TableDefinition.<Entry>of("dictionary", "Data dictionary", "A column of a table.")
          .with("table", Kind.TEXT, "The table's name; its files are called so.", e -> e.table().name())
          .inFiles("row", Kind.TEXT, "What one row of it is.", e -> e.table().row())
          .with("column", Kind.TEXT, "The column's heading.", e -> e.column().heading())
          .with("kind", Kind.TEXT,
              "text; yes or no; count; share (0 to 1); number; date (ISO 8601); instant (ISO 8601, UTC); duration (ISO "
                  + "8601; in a spreadsheet hours, minutes and seconds).", e -> e.column().kind().word())
          .withIfAny("unit", Kind.TEXT, "The unit of a number.",
              e -> Optional.of(e.column().kind().unit()).filter(unit -> !unit.isEmpty()))
          .with("always", Kind.FLAG, "Whether every row has a value.", e -> e.column().always())
          .with("meaning", Kind.TEXT, "What it means.", e -> e.column().meaning());

  private DataDictionary() {}

  /** The dictionary of these tables, and of itself. */
  public static Table of(List<TableDefinition<?>> tables) {
    List<Entry> entries = new ArrayList<>();
    tables.forEach(table -> table.columns().forEach(column -> entries.add(new Entry(table, column))));
    COLUMNS.columns().forEach(column -> entries.add(new Entry(COLUMNS, column)));
    return COLUMNS.of(entries);
  }
}

package ferrule.report.table;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Locale;

/**
 * A table with its rows.
 *
 * @param definition what it is
 * @param about what it is about, such as the cohort and the day; may be empty
 * @param rows the cells in the order of the columns
 */
public record Table(TableDefinition<?> definition, String about, List<List<Cell>> rows) {

  /** Copies the rows and checks that each has a cell for every column. */
  public Table {
    rows = List.copyOf(rows);
    int columns = definition.columns().size();
    rows.stream().filter(r -> r.size() != columns).findFirst().ifPresent(r -> {
      throw new IllegalArgumentException(
          "the table " + definition.name() + " has " + columns + " columns; given a row of " + r.size());
    });
  }

  /** Writes it as a file of this format, and leaves the stream open. */
  public void write(TableFormat format, OutputStream out) throws IOException {
    try (TableWriter writer = format.begin(definition, out)) {
      for (List<Cell> row : rows) {
        writer.row(row);
      }
    }
  }

  /** What a file of this format is called, such as {@code competencies-first-year-2026-11-25.csv}. */
  public String fileName(TableFormat format) {
    String words = about.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", "-").replaceAll("^-|-$", "");
    return definition.name() + (words.isEmpty() ? "" : "-" + words) + "." + format.extension();
  }

  /** The cells of a column. */
  public List<Cell> column(String name) {
    int index = definition.columns().stream().map(Column::name).toList().indexOf(name);
    if (index < 0) {
      throw new IllegalArgumentException("the table " + definition.name() + " has no column " + name);
    }
    return rows.stream().map(r -> r.get(index)).toList();
  }
}

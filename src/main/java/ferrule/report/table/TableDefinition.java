package ferrule.report.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * What a table is: its name, what a row of it is, and its columns with what fills them. One stands as a constant beside
 * the report that it belongs to:
 *
 * <pre>{@code
 * static final TableDefinition<Line> HOURS =
 *     TableDefinition.<Line>of("hours", "Hours at the bench", "An apprentice.")
 *         .inFiles("cohort", Kind.TEXT, "Title of the cohort.", Line::cohort)
 *         .with("apprentice", Kind.TEXT, "Their full name.", Line::name)
 *         .with("time", Kind.DURATION, "At the bench, in all.", Line::time)
 *         .withIfAny("last day", Kind.DATE, "The last day with an entry.", Line::last);
 * }</pre>
 *
 * @param <R> what a row is made from
 */
public final class TableDefinition<R> {

  private final String name;
  private final String title;
  private final String row;
  private final List<Column> columns;
  private final List<Function<R, Cell>> values;

  private TableDefinition(
      String name, String title, String row, List<Column> columns, List<Function<R, Cell>> values) {
    this.name = name;
    this.title = title;
    this.row = row;
    this.columns = List.copyOf(columns);
    this.values = List.copyOf(values);
  }

  /**
   * A table without columns yet.
   *
   * @param name lower case letters, digits and hyphens: the files are called so
   * @param title above the table
   * @param row what one row is, in a sentence
   */
  public static <R> TableDefinition<R> of(String name, String title, String row) {
    if (!name.matches("[a-z0-9]+(-[a-z0-9]+)*")) {
      throw new IllegalArgumentException("a table's name is of lower case letters, digits and hyphens; given: " + name);
    }
    return new TableDefinition<>(name, title, row, List.of(), List.of());
  }

  /** With one more column, in which every row has a value. */
  public <V> TableDefinition<R> with(String column, Kind<V> kind, String meaning, Function<? super R, ? extends V> value) {
    return and(new Column(column, kind, meaning, true, true), r -> kind.cell(value.apply(r)));
  }

  /** With one more column, in which a row may have no value. */
  public <V> TableDefinition<R> withIfAny(
      String column, Kind<V> kind, String meaning, Function<? super R, Optional<? extends V>> value) {
    return and(new Column(column, kind, meaning, false, true), r -> cell(kind, value.apply(r)));
  }

  /** With one more column that stands in files and not on paper: an id, or what the whole table shares. */
  public <V> TableDefinition<R> inFiles(
      String column, Kind<V> kind, String meaning, Function<? super R, ? extends V> value) {
    return and(new Column(column, kind, meaning, true, false), r -> kind.cell(value.apply(r)));
  }

  /** The same, for a column in which a row may have no value. */
  public <V> TableDefinition<R> inFilesIfAny(
      String column, Kind<V> kind, String meaning, Function<? super R, Optional<? extends V>> value) {
    return and(new Column(column, kind, meaning, false, false), r -> cell(kind, value.apply(r)));
  }

  private static <V> Cell cell(Kind<V> kind, Optional<? extends V> value) {
    return value.isPresent() ? kind.cell(value.get()) : Cell.BLANK;
  }

  private TableDefinition<R> and(Column column, Function<R, Cell> value) {
    if (columns.stream().anyMatch(c -> c.name().equals(column.name()))) {
      throw new IllegalArgumentException("the table " + name + " has a column " + column.name() + " already");
    }
    List<Column> moreColumns = new ArrayList<>(columns);
    moreColumns.add(column);
    List<Function<R, Cell>> moreValues = new ArrayList<>(values);
    moreValues.add(value);
    return new TableDefinition<>(name, title, row, moreColumns, moreValues);
  }

  /** The table's name, by which its files are called. */
  public String name() {
    return name;
  }

  /** Its title. */
  public String title() {
    return title;
  }

  /** What one row is. */
  public String row() {
    return row;
  }

  /** Its columns, from left to right. */
  public List<Column> columns() {
    return columns;
  }

  /** One row, its cells in the order of the columns. */
  public List<Cell> cells(R of) {
    return values.stream().map(value -> value.apply(of)).toList();
  }

  /** The table of these rows. */
  public Table of(List<? extends R> rows) {
    return of(rows, "");
  }

  /**
   * The table of these rows.
   *
   * @param about what it is about, such as the cohort and the day: its files are called by that too; may be empty
   */
  public Table of(List<? extends R> rows, String about) {
    return new Table(this, about, rows.stream().map(r -> cells(r)).toList());
  }

  /** Writes the table of these rows, which are taken one by one, into a file of this format. */
  public void write(Stream<? extends R> rows, TableWriter out) throws java.io.IOException {
    for (java.util.Iterator<? extends R> each = rows.iterator(); each.hasNext();) {
      out.row(cells(each.next()));
    }
  }
}

package ferrule.report.table;

import java.util.List;
import java.util.Optional;

/**
 * A report on paper: a heading and sections of words, figures and tables.
 *
 * @param title of the whole
 * @param says when and of whom it speaks, in a sentence or two
 * @param sections from top to bottom
 */
public record Printout(String title, String says, List<Section> sections) {

  /** Copies the sections. */
  public Printout {
    sections = List.copyOf(sections);
  }

  /**
   * A section.
   *
   * @param heading may be empty, where the title says it all
   * @param says paragraphs above the figure and the table
   * @param figure an SVG drawing with fixed colours, a width and height, and an attribute {@code alt}
   * @param table the table
   */
  public record Section(String heading, List<String> says, Optional<String> figure, Optional<Table> table) {

    /** Copies the paragraphs. */
    public Section {
      says = List.copyOf(says);
    }

    /** A table with its own title. */
    public static Section of(Table table, String... says) {
      return new Section(table.definition().title(), List.of(says), Optional.empty(), Optional.of(table));
    }

    /** A table under this heading. */
    public static Section of(String heading, Table table, String... says) {
      return new Section(heading, List.of(says), Optional.empty(), Optional.of(table));
    }

    /** Words alone. */
    public static Section ofWords(String heading, String... says) {
      return new Section(heading, List.of(says), Optional.empty(), Optional.empty());
    }

    /** The same with a figure above the table. */
    public Section with(String svg) {
      return new Section(heading, says, Optional.of(svg), table);
    }

    /** How many cells its table has on paper; 0 without one. */
    public int cells() {
      return table.map(t -> t.rows().size() * columns().size()).orElse(0);
    }

    /** The columns that are printed. */
    List<Column> columns() {
      return table.map(t -> t.definition().columns().stream().filter(Column::onPaper).toList()).orElse(List.of());
    }
  }
}

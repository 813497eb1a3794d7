package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * A table of specifications: how many items of which kind about which assembly.
 *
 * @param cells those of the table that are not empty, at least one
 */
public record Blueprint(List<Cell> cells) {

  /**
   * One cell of the table.
   *
   * @param assembly under which the items are picked; empty for any that the plan names
   * @param kind what they ask for
   * @param count how many, at least 1
   */
  public record Cell(Optional<ConceptId> assembly, ItemKind kind, int count) {

    /** Checks the count. */
    public Cell {
      if (count < 1) {
        throw new IllegalArgumentException("a cell of a blueprint asks for at least one item; given: " + count);
      }
    }
  }

  /** Copies the list and checks that it asks for something, and for each pair of assembly and kind once. */
  public Blueprint {
    cells = List.copyOf(cells);
    if (cells.isEmpty()) {
      throw new IllegalArgumentException("a blueprint asks for at least one item");
    }
    if (cells.stream().map(c -> c.assembly() + c.kind().word()).distinct().count() < cells.size()) {
      throw new IllegalArgumentException("a cell stands twice in a blueprint: " + cells);
    }
  }

  /** How many items it asks for. */
  public int length() {
    return cells.stream().mapToInt(Cell::count).sum();
  }

  /** How many items of a kind it asks for. */
  int count(ItemKind kind) {
    return cells.stream().filter(c -> c.kind() == kind).mapToInt(Cell::count).sum();
  }

  @Override
  public String toString() {
    return cells.stream()
        .map(c -> c.count() + " " + c.kind().word() + c.assembly().map(a -> " of " + a).orElse(""))
        .collect(Collectors.joining(", "));
  }
}

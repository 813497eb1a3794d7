package ferrule.drill.form;

import java.util.List;

/**
 * The items of one form, before they have an order.
 *
 * @param <T> what an item is to the caller
 * @param cells the items of each cell, in the order of the table; fewer than the cell asks for where there are not enough
 */
public record Form<T>(List<List<Candidate<T>>> cells) {

  /** Copies the lists. */
  public Form {
    cells = cells.stream().map(List::copyOf).toList();
  }

  /** All of its items, cell by cell. */
  public List<Candidate<T>> items() {
    return cells.stream().flatMap(List::stream).toList();
  }

  /** The number of right answers to expect: the sum of the chances. */
  public double expected() {
    return items().stream().mapToDouble(Candidate::chance).sum();
  }
}

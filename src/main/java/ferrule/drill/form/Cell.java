package ferrule.drill.form;

import java.util.List;

/**
 * One cell of a table of specifications: so many items out of those that fit it.
 *
 * @param <T> what an item is to the caller
 * @param number how many items a form takes from it, at least one
 * @param candidates what fits it, in a fixed order
 */
public record Cell<T>(int number, List<Candidate<T>> candidates) {

  /** Copies the list and checks the number. */
  public Cell {
    candidates = List.copyOf(candidates);
    if (number < 1) {
      throw new IllegalArgumentException("a cell asks for at least one item; given: " + number);
    }
  }

  /** The score that its items are expected to bring if they are drawn without regard to how hard they are. */
  double expected() {
    return number * candidates.stream().mapToDouble(Candidate::chance).average().orElse(0);
  }
}

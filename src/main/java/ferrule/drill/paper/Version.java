package ferrule.drill.paper;

import ferrule.drill.Item;
import java.util.List;
import java.util.Optional;

/**
 * One of the shuffled versions of a worksheet.
 *
 * @param letter A to F
 * @param items its items in the order of their numbers on the paper, which are their positions and count from 1
 */
public record Version(String letter, List<Item> items) {

  /** Copies the list and checks the letter and the numbers. */
  public Version {
    items = List.copyOf(items);
    if (!letter.matches("[A-F]")) {
      throw new IllegalArgumentException("versions are called A to F; given: " + letter);
    }
    for (int i = 0; i < items.size(); i++) {
      if (items.get(i).position() != i + 1) {
        throw new IllegalArgumentException("number " + (i + 1) + " has position " + items.get(i).position());
      }
    }
  }

  /** The item with this number, if there is one. */
  public Optional<Item> item(int number) {
    return number >= 1 && number <= items.size() ? Optional.of(items.get(number - 1)) : Optional.empty();
  }
}

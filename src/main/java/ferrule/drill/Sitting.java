package ferrule.drill;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * One person's going through one drill, with its items as they were drawn at the start.
 *
 * @param id never changes
 * @param person whose it is
 * @param assignment the assignment that it belongs to; empty for a self-test
 * @param attempt 1 for the first time that the person takes the assignment
 * @param title what it is called
 * @param plan what it asks
 * @param seed what the items were drawn by
 * @param edition the edition of the curriculum that the items were drawn from
 * @param startedAt when it was started
 * @param items its items in order, at least one
 */
public record Sitting(
    UUID id,
    UUID person,
    Optional<UUID> assignment,
    int attempt,
    String title,
    Plan plan,
    long seed,
    String edition,
    Instant startedAt,
    List<Item> items) {

  /** Copies the items and checks that their positions count from 1. */
  public Sitting {
    items = List.copyOf(items);
    if (items.isEmpty()) {
      throw new IllegalArgumentException("a sitting needs at least one item");
    }
    for (int i = 0; i < items.size(); i++) {
      if (items.get(i).position() != i + 1) {
        throw new IllegalArgumentException("item " + (i + 1) + " stands at position " + items.get(i).position());
      }
    }
  }

  /** The item at this position, if there is one. */
  public Optional<Item> item(int position) {
    return position >= 1 && position <= items.size() ? Optional.of(items.get(position - 1)) : Optional.empty();
  }
}

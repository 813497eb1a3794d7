package ferrule.procedure;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;

/**
 * A finite strict partial order on the elements 0 to size - 1. Immutable.
 *
 * <p>Example: {@code PartialOrder.of(3, List.of(new Pair(0, 2), new Pair(1, 2)))}, in which 0 and 1 come before 2 and
 * are free of each other.
 *
 * <p>It is held as its transitive closure, one word of bits for each element, so that every question about two
 * elements is one operation.
 */
public final class PartialOrder {

  /** The most elements that an order can have. */
  public static final int MOST_ELEMENTS = 62;

  /**
   * That one element comes before another.
   *
   * @param lower the one that comes first
   * @param upper the one that comes later
   */
  public record Pair(int lower, int upper) {}

  private final long[] below;

  private PartialOrder(long[] below) {
    this.below = below;
  }

  /**
   * The smallest order in which each of these pairs holds.
   *
   * @param size the number of elements, 0 to {@value #MOST_ELEMENTS}
   * @throws IllegalArgumentException if the pairs go in a circle, or the size or an element is out of range
   */
  public static PartialOrder of(int size, Collection<Pair> pairs) {
    if (size < 0 || size > MOST_ELEMENTS) {
      throw new IllegalArgumentException("an order has 0 to " + MOST_ELEMENTS + " elements; given: " + size);
    }
    long[] below = new long[size];
    for (Pair pair : pairs) {
      if (pair.lower() < 0 || pair.lower() >= size || pair.upper() < 0 || pair.upper() >= size) {
        throw new IllegalArgumentException("elements are 0 to " + (size - 1) + "; given: " + pair);
      }
      below[pair.upper()] |= 1L << pair.lower();
    }
    close(below);
    for (int i = 0; i < size; i++) {
      if ((below[i] >>> i & 1) != 0) {
        throw new IllegalArgumentException("element " + i + " would come before itself");
      }
    }
    return new PartialOrder(below);
  }

  // Warshall's algorithm, a row of bits at a time
  private static void close(long[] below) {
    for (int middle = 0; middle < below.length; middle++) {
      for (int upper = 0; upper < below.length; upper++) {
        if ((below[upper] >>> middle & 1) != 0) {
          below[upper] |= below[middle];
        }
      }
    }
  }

  /** The number of elements. */
  public int size() {
    return below.length;
  }

  /** Whether one element must come before another. */
  public boolean precedes(int lower, int upper) {
    return (below[upper] >>> lower & 1) != 0;
  }

  /** The elements that must come before this one, as bits. */
  public long below(int element) {
    return below[element];
  }

  /** The elements that are not in a set but whose predecessors all are, as bits. */
  public long availableAfter(long done) {
    long available = 0;
    for (int i = 0; i < below.length; i++) {
      if ((done >>> i & 1) == 0 && (below[i] & ~done) == 0) {
        available |= 1L << i;
      }
    }
    return available;
  }

  /** Every pair of elements that the order relates, by lower and then upper element. */
  public List<Pair> relations() {
    List<Pair> relations = new ArrayList<>();
    for (int lower = 0; lower < below.length; lower++) {
      for (int upper = 0; upper < below.length; upper++) {
        if (precedes(lower, upper)) {
          relations.add(new Pair(lower, upper));
        }
      }
    }
    return relations;
  }

  /** The related pairs with no element between them: the fewest pairs that give this order. */
  public List<Pair> covers() {
    return relations().stream().filter(this::isCover).toList();
  }

  private boolean isCover(Pair pair) {
    for (int middle = 0; middle < below.length; middle++) {
      if (precedes(pair.lower(), middle) && precedes(middle, pair.upper())) {
        return false;
      }
    }
    return true;
  }

  /**
   * Whether a sequence of all elements keeps the order: one of its linear extensions.
   *
   * @throws IllegalArgumentException if the sequence does not hold each element once
   */
  public boolean isKeptBy(List<Integer> sequence) {
    int[] place = places(sequence);
    for (int upper = 0; upper < below.length; upper++) {
      for (int lower = 0; lower < below.length; lower++) {
        if (precedes(lower, upper) && place[lower] > place[upper]) {
          return false;
        }
      }
    }
    return true;
  }

  /** The place of each element in a sequence of all of them, from 0. */
  int[] places(List<Integer> sequence) {
    if (sequence.size() != below.length) {
      throw new IllegalArgumentException(
          "expected each of " + below.length + " elements once; given " + sequence.size() + " of them");
    }
    int[] place = new int[below.length];
    long seen = 0;
    for (int i = 0; i < sequence.size(); i++) {
      int element = sequence.get(i);
      if (element < 0 || element >= below.length || (seen >>> element & 1) != 0) {
        throw new IllegalArgumentException("expected each of " + below.length + " elements once; given: " + sequence);
      }
      seen |= 1L << element;
      place[element] = i;
    }
    return place;
  }
}

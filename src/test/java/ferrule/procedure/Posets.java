package ferrule.procedure;

import ferrule.procedure.PartialOrder.Pair;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Orders and sequences for tests, made by means that the product does not use. */
final class Posets {

  private Posets() {}

  /** Every partial order on the elements 0 to size - 1, with their names: each set of pairs that is transitive. */
  static Collection<PartialOrder> all(int size) {
    List<Pair> pairs = new ArrayList<>();
    for (int lower = 0; lower < size; lower++) {
      for (int upper = 0; upper < size; upper++) {
        if (lower != upper) {
          pairs.add(new Pair(lower, upper));
        }
      }
    }
    Map<List<Pair>, PartialOrder> found = new LinkedHashMap<>();
    for (int chosen = 0; chosen < 1 << pairs.size(); chosen++) {
      if (isTransitiveAndHasNoCircle(chosen, size)) {
        List<Pair> subset = new ArrayList<>();
        for (int i = 0; i < pairs.size(); i++) {
          if ((chosen >>> i & 1) != 0) {
            subset.add(pairs.get(i));
          }
        }
        found.put(subset, PartialOrder.of(size, subset));
      }
    }
    return found.values();
  }

  private static boolean isTransitiveAndHasNoCircle(int chosen, int size) {
    for (int a = 0; a < size; a++) {
      for (int b = 0; b < size; b++) {
        if (a != b && has(chosen, size, a, b)) {
          for (int c = 0; c < size; c++) {
            if (c != b && has(chosen, size, b, c) && (c == a || !has(chosen, size, a, c))) {
              return false;
            }
          }
        }
      }
    }
    return true;
  }

  // bit of the pair in the sequence in which all() lists them
  private static boolean has(int chosen, int size, int lower, int upper) {
    int bit = lower * (size - 1) + upper - (upper > lower ? 1 : 0);
    return (chosen >>> bit & 1) != 0;
  }

  /** Every sequence of the elements 0 to size - 1. */
  static List<List<Integer>> sequences(int size) {
    List<List<Integer>> sequences = List.of(List.of());
    for (int element = 0; element < size; element++) {
      List<List<Integer>> longer = new ArrayList<>();
      for (List<Integer> shorter : sequences) {
        for (int at = 0; at <= shorter.size(); at++) {
          List<Integer> sequence = new ArrayList<>(shorter);
          sequence.add(at, element);
          longer.add(sequence);
        }
      }
      sequences = longer;
    }
    return sequences;
  }

  static PartialOrder chain(int size) {
    List<Pair> pairs = new ArrayList<>();
    for (int i = 1; i < size; i++) {
      pairs.add(new Pair(i - 1, i));
    }
    return PartialOrder.of(size, pairs);
  }

  static PartialOrder antichain(int size) {
    return PartialOrder.of(size, List.of());
  }

  /** The zig-zag 0 < 1 > 2 < 3 > ... */
  static PartialOrder fence(int size) {
    List<Pair> pairs = new ArrayList<>();
    for (int i = 1; i < size; i++) {
      pairs.add(i % 2 == 1 ? new Pair(i - 1, i) : new Pair(i, i - 1));
    }
    return PartialOrder.of(size, pairs);
  }

  /** The subsets of a set of this many, each below those that hold it. */
  static PartialOrder subsetsOf(int members) {
    List<Pair> pairs = new ArrayList<>();
    for (int small = 0; small < 1 << members; small++) {
      for (int large = 0; large < 1 << members; large++) {
        if (small != large && (small & ~large) == 0) {
          pairs.add(new Pair(small, large));
        }
      }
    }
    return PartialOrder.of(1 << members, pairs);
  }

  /** The product of two chains. */
  static PartialOrder grid(int rows, int columns) {
    List<Pair> pairs = new ArrayList<>();
    for (int row = 0; row < rows; row++) {
      for (int column = 0; column < columns; column++) {
        if (row > 0) {
          pairs.add(new Pair((row - 1) * columns + column, row * columns + column));
        }
        if (column > 0) {
          pairs.add(new Pair(row * columns + column - 1, row * columns + column));
        }
      }
    }
    return PartialOrder.of(rows * columns, pairs);
  }
}

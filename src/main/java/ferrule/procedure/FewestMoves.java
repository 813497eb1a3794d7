package ferrule.procedure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.PriorityQueue;

/**
 * The fewest elements of a sequence to take out and put elsewhere so that it keeps a partial order: its distance in
 * Ulam's metric from the nearest linear extension.
 *
 * <p>The idea: the elements that stay keep their sequence among themselves. They can stay if and only if no two of them
 * stand the wrong way round. (If no two do, the order together with the chain of those that stay has no circle: along a
 * circle every piece, of the chain or of the order, would lead on to a later place of the sequence.) "x must precede y
 * but stands after it" is the meet of two strict orders and so a strict order itself; elements no two of which are
 * wrong way round are an antichain of it. The largest antichain has as many elements as the smallest cover by chains
 * (Dilworth, Annals of Mathematics 51, 1950, 161-166), which is the number of elements less the size of a maximum
 * matching between elements and elements (Fulkerson, Proceedings of the American Mathematical Society 7, 1956,
 * 701-702). So the fewest moves are the size of that matching, and König's theorem gives the antichain. If the order
 * is a chain, this is the length of the sequence less its longest increasing subsequence. (Citations from memory.)
 *
 * <p>Cost: at most the cube of the number of elements.
 */
final class FewestMoves {

  private final PartialOrder order;
  private final int[] place;
  private final long[] wrongWith;
  private final int[] matchOfUpper;
  private final int[] matchOfLower;

  /** Reckons them for a sequence of all elements of the order. */
  FewestMoves(PartialOrder order, List<Integer> sequence) {
    this.order = order;
    this.place = order.places(sequence);
    this.wrongWith = wrongPairs();
    this.matchOfUpper = new int[place.length];
    this.matchOfLower = new int[place.length];
    Arrays.fill(matchOfUpper, -1);
    Arrays.fill(matchOfLower, -1);
    for (int lower = 0; lower < place.length; lower++) {
      augment(lower, new boolean[place.length]);
    }
  }

  /** For each element, as bits, those that must come after it but stand before it. */
  private long[] wrongPairs() {
    long[] wrong = new long[place.length];
    for (int lower = 0; lower < place.length; lower++) {
      for (int upper = 0; upper < place.length; upper++) {
        if (order.precedes(lower, upper) && place[upper] < place[lower]) {
          wrong[lower] |= 1L << upper;
        }
      }
    }
    return wrong;
  }

  private boolean augment(int lower, boolean[] tried) {
    for (long rest = wrongWith[lower]; rest != 0; rest &= rest - 1) {
      int upper = Long.numberOfTrailingZeros(rest);
      if (!tried[upper]) {
        tried[upper] = true;
        if (matchOfUpper[upper] < 0 || augment(matchOfUpper[upper], tried)) {
          matchOfUpper[upper] = lower;
          matchOfLower[lower] = upper;
          return true;
        }
      }
    }
    return false;
  }

  /** The elements to move, by number; no smaller set would do. */
  List<Integer> elements() {
    boolean[] lowerSeen = new boolean[place.length];
    boolean[] upperSeen = new boolean[place.length];
    for (int lower = 0; lower < place.length; lower++) {
      if (matchOfLower[lower] < 0) {
        alternate(lower, lowerSeen, upperSeen);
      }
    }
    List<Integer> moved = new ArrayList<>();
    for (int i = 0; i < place.length; i++) {
      if (!lowerSeen[i] || upperSeen[i]) {
        moved.add(i);
      }
    }
    return moved;
  }

  private void alternate(int lower, boolean[] lowerSeen, boolean[] upperSeen) {
    if (lowerSeen[lower]) {
      return;
    }
    lowerSeen[lower] = true;
    for (long rest = wrongWith[lower]; rest != 0; rest &= rest - 1) {
      int upper = Long.numberOfTrailingZeros(rest);
      if (!upperSeen[upper]) {
        upperSeen[upper] = true;
        alternate(matchOfUpper[upper], lowerSeen, upperSeen);
      }
    }
  }

  /** A sequence that keeps the order and in which all but the {@link #elements} keep their sequence. */
  List<Integer> mended() {
    List<PartialOrder.Pair> pairs = new ArrayList<>(order.relations());
    List<Integer> moved = elements();
    Integer[] bySequence = new Integer[place.length];
    for (int i = 0; i < place.length; i++) {
      bySequence[place[i]] = i;
    }
    List<Integer> kept = Arrays.stream(bySequence).filter(i -> !moved.contains(i)).toList();
    for (int i = 1; i < kept.size(); i++) {
      pairs.add(new PartialOrder.Pair(kept.get(i - 1), kept.get(i)));
    }
    return nearest(PartialOrder.of(place.length, pairs));
  }

  // of what can come next, always what stood first
  private List<Integer> nearest(PartialOrder fixed) {
    List<Integer> sequence = new ArrayList<>();
    long done = 0;
    while (sequence.size() < place.length) {
      PriorityQueue<Integer> available = new PriorityQueue<>((a, b) -> Integer.compare(place[a], place[b]));
      for (long rest = fixed.availableAfter(done); rest != 0; rest &= rest - 1) {
        available.add(Long.numberOfTrailingZeros(rest));
      }
      sequence.add(available.element());
      done |= 1L << available.element();
    }
    return sequence;
  }
}

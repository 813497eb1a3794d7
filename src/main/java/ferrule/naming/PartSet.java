package ferrule.naming;

import java.util.Arrays;
import java.util.BitSet;
import java.util.Comparator;

/**
 * A fixed set of part numbers: a sorted list, with a bit for each part beside it where it has more than a few members.
 */
final class PartSet {

  private static final int BITS_PER_WORD = 64;
  private static final int FEW = 16;
  private static final Comparator<PartSet> SMALLEST_FIRST = Comparator.comparingInt(PartSet::size);

  private final int[] members;
  private final long[] bits;

  private PartSet(int[] members, long[] bits) {
    this.members = members;
    this.bits = bits;
  }

  /** The set with the members of a bit set, out of so many parts. If a set has bits, so has every larger one. */
  static PartSet of(BitSet parts, int universe) {
    int[] members = parts.stream().toArray();
    boolean many = members.length > FEW || members.length * BITS_PER_WORD >= universe;
    return new PartSet(members, many ? parts.toLongArray() : null);
  }

  /**
   * The members of all the sets, in ascending order: by walking the smallest set where that one is small, else by the bits
   * of all of them, {@value #BITS_PER_WORD} parts at a step.
   *
   * @param sets at least one set, in any order; sorted by this call, smallest first
   */
  static int[] common(PartSet[] sets) {
    Arrays.sort(sets, SMALLEST_FIRST);
    return sets[0].bits == null ? sets[0].walked(sets) : overlaid(sets);
  }

  private int[] walked(PartSet[] sets) {
    int[] found = new int[members.length];
    int count = 0;
    for (int part : members) {
      boolean inAll = true;
      for (int i = 1; inAll && i < sets.length; i++) {
        inAll = sets[i].contains(part);
      }
      if (inAll) {
        found[count++] = part;
      }
    }
    return count == found.length ? found : Arrays.copyOf(found, count);
  }

  /** None of the sets is smaller than the first, so all of them have bits. */
  private static int[] overlaid(PartSet[] sets) {
    int length = Integer.MAX_VALUE;
    for (PartSet set : sets) {
      length = Math.min(length, set.bits.length);
    }
    int[] found = new int[8];
    int count = 0;
    for (int at = 0; at < length; at++) {
      long common = sets[0].bits[at];
      for (int i = 1; common != 0 && i < sets.length; i++) {
        common &= sets[i].bits[at];
      }
      for (; common != 0; common &= common - 1) {
        found = count == found.length ? Arrays.copyOf(found, count * 2) : found;
        found[count++] = at * BITS_PER_WORD + Long.numberOfTrailingZeros(common);
      }
    }
    return Arrays.copyOf(found, count);
  }

  /** How many members it has. */
  int size() {
    return members.length;
  }

  /** What a look through the set costs: its members, or its bits in words. */
  int cost() {
    return bits == null ? members.length : bits.length;
  }

  /** Whether a part is a member. */
  boolean contains(int part) {
    if (bits == null) {
      return Arrays.binarySearch(members, part) >= 0;
    }
    int at = part / BITS_PER_WORD;
    return at < bits.length && (bits[at] >>> part & 1) != 0;
  }
}

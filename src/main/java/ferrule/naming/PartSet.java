package ferrule.naming;

import java.util.Arrays;
import java.util.BitSet;

/**
 * A fixed set of part numbers: a sorted list, with a bit for each part beside it where the set is dense enough for that
 * to cost less than searching the list.
 */
final class PartSet {

  static final PartSet EMPTY = new PartSet(new int[0], null);

  private static final int BITS_PER_WORD = 64;

  private final int[] members;
  private final long[] bits;

  private PartSet(int[] members, long[] bits) {
    this.members = members;
    this.bits = bits;
  }

  /** The set with the members of a bit set. */
  static PartSet of(BitSet parts) {
    int[] members = parts.stream().toArray();
    boolean dense = members.length * (long) BITS_PER_WORD >= parts.length();
    return new PartSet(members, dense ? parts.toLongArray() : null);
  }

  /** How many members it has. */
  int size() {
    return members.length;
  }

  /** The member at a place, in ascending order. */
  int member(int place) {
    return members[place];
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

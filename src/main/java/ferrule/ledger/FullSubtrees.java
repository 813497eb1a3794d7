package ferrule.ledger;

/** The roots of a log's full subtrees, from which every proof is made. */
interface FullSubtrees {

  /**
   * The root of a full subtree.
   *
   * @param level of it: it has 2^level leaves
   * @param last number of its last leaf, counted from 1, a multiple of 2^level
   */
  byte[] root(int level, long last);

  /** The root of the leaves from first (exclusive) to last, as a tree of its own; first is where a left subtree ends. */
  default byte[] range(long first, long last) {
    int level = 63 - Long.numberOfLeadingZeros(last - first);
    long split = first + (1L << level);
    byte[] left = root(level, split);
    return split == last ? left : MerkleTree.nodeHash(left, range(split, last));
  }
}

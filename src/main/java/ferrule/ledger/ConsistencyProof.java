package ferrule.ledger;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;

/**
 * The proof that a later head is of a log that begins with all that an earlier head spoke of, in the same order (RFC
 * 9162, 2.1.4): between the two, entries were only added.
 *
 * @param first size of the log at the earlier head
 * @param second size of the log at the later head
 * @param path hashes in the order of the RFC, in hex
 */
public record ConsistencyProof(long first, long second, List<String> path) {

  private static final HexFormat HEX = HexFormat.of();

  /** Checks that both sizes are at least 1 and in order. */
  public ConsistencyProof {
    path = List.copyOf(path);
    if (first < 1 || first > second) {
      throw new IllegalArgumentException(
          "the earlier size is from 1 to the later, " + second + "; given: " + first);
    }
  }

  /** The proof from the subtrees of the log: PROOF of RFC 9162, 2.1.4.1. */
  static ConsistencyProof of(long first, long second, FullSubtrees subtrees) {
    List<String> path = new ArrayList<>();
    collect(first, 0, second, true, subtrees, path);
    return new ConsistencyProof(first, second, path);
  }

  private static void collect(
      long size, long from, long to, boolean known, FullSubtrees subtrees, List<String> path) {
    if (size == to) {
      if (!known) {
        path.add(HEX.formatHex(subtrees.range(from, to)));
      }
      return;
    }
    long split = from + Long.highestOneBit(to - from - 1);
    if (size <= split) {
      collect(size, from, split, known, subtrees, path);
      path.add(HEX.formatHex(subtrees.range(split, to)));
    } else {
      collect(size, split, to, false, subtrees, path);
      path.add(HEX.formatHex(subtrees.range(from, split)));
    }
  }

  /** Whether it proves that the second root's log begins with the first root's: RFC 9162, 2.1.4.2. */
  public boolean holds(String firstRoot, String secondRoot) {
    if (first == second) {
      return path.isEmpty() && firstRoot.equals(secondRoot);
    }
    List<byte[]> steps = new ArrayList<>(path.stream().map(HEX::parseHex).toList());
    if (Long.bitCount(first) == 1) {
      steps.add(0, HEX.parseHex(firstRoot));
    }
    if (steps.isEmpty()) {
      return false;
    }
    int shared = Long.numberOfTrailingZeros(~(first - 1)); // while the lowest bit is set, both move up
    long fn = (first - 1) >> shared;
    long sn = (second - 1) >> shared;
    byte[] one = steps.get(0);
    byte[] two = steps.get(0);
    for (byte[] step : steps.subList(1, steps.size())) {
      if (sn == 0) {
        return false;
      }
      if ((fn & 1) == 1 || fn == sn) {
        one = MerkleTree.nodeHash(step, one);
        two = MerkleTree.nodeHash(step, two);
        while ((fn & 1) == 0 && fn != 0) {
          fn >>= 1;
          sn >>= 1;
        }
      } else {
        two = MerkleTree.nodeHash(two, step);
      }
      fn >>= 1;
      sn >>= 1;
    }
    return sn == 0 && Arrays.equals(one, HEX.parseHex(firstRoot)) && Arrays.equals(two, HEX.parseHex(secondRoot));
  }
}

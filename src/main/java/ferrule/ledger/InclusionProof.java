package ferrule.ledger;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;

/**
 * The proof that an entry is in the log of which a head speaks, at its place (RFC 9162, 2.1.3). With the entry's text and
 * the head it needs nothing else, and no more than log2 n hashes to check.
 *
 * @param number of the entry, counted from 1 (the RFC's leaf_index is one less)
 * @param size of the log
 * @param path the roots of the subtrees beside the way from the entry up to the head, in hex
 */
public record InclusionProof(long number, long size, List<String> path) {

  private static final HexFormat HEX = HexFormat.of();

  /** Checks that the number is in the log. */
  public InclusionProof {
    path = List.copyOf(path);
    if (number < 1 || number > size) {
      throw new IllegalArgumentException("an entry's number is from 1 to the size " + size + "; given: " + number);
    }
  }

  /** The proof from the subtrees of the log: PATH of RFC 9162, 2.1.3.1. */
  static InclusionProof of(long number, long size, FullSubtrees subtrees) {
    List<String> path = new ArrayList<>();
    collect(number, 0, size, subtrees, path);
    return new InclusionProof(number, size, path);
  }

  private static void collect(long number, long first, long last, FullSubtrees subtrees, List<String> path) {
    if (last - first == 1) {
      return;
    }
    long split = first + Long.highestOneBit(last - first - 1);
    if (number <= split) {
      collect(number, first, split, subtrees, path);
      path.add(HEX.formatHex(subtrees.range(split, last)));
    } else {
      collect(number, split, last, subtrees, path);
      path.add(HEX.formatHex(subtrees.range(first, split)));
    }
  }

  /** Whether it proves that a leaf with this hash is in the log with this root: RFC 9162, 2.1.3.2. */
  public boolean holds(String leafHash, String root) {
    long at = number - 1;
    long last = size - 1;
    byte[] hash = HEX.parseHex(leafHash);
    for (String step : path) {
      if (last == 0) {
        return false;
      }
      byte[] beside = HEX.parseHex(step);
      if ((at & 1) == 1 || at == last) {
        hash = MerkleTree.nodeHash(beside, hash);
        while ((at & 1) == 0 && at != 0) {
          at >>= 1;
          last >>= 1;
        }
      } else {
        hash = MerkleTree.nodeHash(hash, beside);
      }
      at >>= 1;
      last >>= 1;
    }
    return last == 0 && Arrays.equals(hash, HEX.parseHex(root));
  }
}

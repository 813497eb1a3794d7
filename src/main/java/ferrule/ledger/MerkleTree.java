package ferrule.ledger;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A Merkle tree that grows by one leaf at a time, with the hashing of RFC 9162, 2.1.1: SHA-256 over 00 and the leaf, or
 * over 01 and both children; a tree of n leaves splits at the largest power of two below n.
 *
 * <p>Only the roots of the full subtrees are kept, from left to right (one for each binary digit 1 of the number of
 * leaves), because the root of the whole and every later append need nothing else. An append costs at most log2 n
 * hashes, and so does the root. Not thread-safe.
 */
final class MerkleTree {

  private static final HexFormat HEX = HexFormat.of();
  private static final byte LEAF = 0;
  private static final byte NODE = 1;

  private final MessageDigest sha256 = sha256();
  private final List<byte[]> peaks = new ArrayList<>();
  private long size;

  /** An empty tree. */
  MerkleTree() {}

  /** The tree of this size whose peaks {@link #peaks} once gave. */
  static MerkleTree of(long size, String peaks) {
    MerkleTree tree = new MerkleTree();
    tree.size = size;
    Stream.of(peaks.split(" ")).filter(p -> !p.isEmpty()).map(HEX::parseHex).forEach(tree.peaks::add);
    if (tree.peaks.size() != Long.bitCount(size)) {
      throw new IllegalArgumentException(
          "a tree of " + size + " leaves has " + Long.bitCount(size) + " peaks; given " + tree.peaks.size());
    }
    return tree;
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** The hash of a leaf that holds these bytes. */
  static byte[] leafHash(byte[] content) {
    return new MerkleTree().leaf(content);
  }

  /** The hash of a node with these children. */
  static byte[] nodeHash(byte[] left, byte[] right) {
    return new MerkleTree().node(left, right);
  }

  /** The hash of a leaf that holds these bytes, with this tree's own digest. */
  byte[] leaf(byte[] content) {
    sha256.update(LEAF);
    return sha256.digest(content);
  }

  /**
   * Adds a leaf by its hash.
   *
   * @return the root of the largest full subtree that this leaf completes: for every second leaf, its own hash
   */
  byte[] append(byte[] leafHash) {
    byte[] last = leafHash;
    // as in binary counting: each trailing 1 of the old size is a full subtree that merges with the new one
    for (long rest = size; (rest & 1) == 1; rest >>= 1) {
      last = node(peaks.remove(peaks.size() - 1), last);
    }
    peaks.add(last);
    size++;
    return last;
  }

  private byte[] node(byte[] left, byte[] right) {
    sha256.update(NODE);
    sha256.update(left);
    return sha256.digest(right);
  }

  /** The number of leaves. */
  long size() {
    return size;
  }

  /** The root of the tree as it is now. */
  byte[] root() {
    byte[] root = peaks.isEmpty() ? sha256.digest() : peaks.get(peaks.size() - 1);
    for (int i = peaks.size() - 2; i >= 0; i--) {
      root = node(peaks.get(i), root);
    }
    return root;
  }

  /** The size and the root of the tree as it is now. */
  TreeHead head() {
    return new TreeHead(size, HEX.formatHex(root()));
  }

  /** The roots of the full subtrees from left to right, in hex, joined by a space. */
  String peaks() {
    return peaks.stream().map(HEX::formatHex).collect(Collectors.joining(" "));
  }
}

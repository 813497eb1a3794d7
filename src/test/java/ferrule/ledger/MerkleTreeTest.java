package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class MerkleTreeTest {

  // transparency-dev/merkle, testonly/constants.go (Apache-2.0), the eight leaves of RFC 6962's reference tests
  private static final List<String> LEAVES =
      List.of("", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f");
  private static final Map<Integer, String> ROOTS =
      Map.of(
          0, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
          1, "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
          2, "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
          3, "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
          4, "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
          8, "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328");

  @Test
  void growsThroughThePublishedRoots() {
    MerkleTree tree = new MerkleTree();
    assertEquals(new TreeHead(0, ROOTS.get(0)), tree.head());
    for (int n = 1; n <= LEAVES.size(); n++) {
      tree.append(MerkleTree.leafHash(HexFormat.of().parseHex(LEAVES.get(n - 1))));
      if (ROOTS.containsKey(n)) {
        assertEquals(new TreeHead(n, ROOTS.get(n)), tree.head(), n + " leaves");
      }
    }
  }

  @Test
  void agreesWithTheRecursiveDefinitionAtEverySize() throws Exception {
    MerkleTree tree = new MerkleTree();
    List<byte[]> leaves = new ArrayList<>();
    for (int n = 1; n <= 130; n++) {
      byte[] leaf = {(byte) n, (byte) (n * 7)};
      leaves.add(leaf);
      tree.append(MerkleTree.leafHash(leaf));
      assertEquals(HexFormat.of().formatHex(rootByDefinition(leaves)), tree.head().root(), n + " leaves");
    }
  }

  // RFC 9162, 2.1.1, word by word: MTH(D[n]) = H(0x01 || MTH(D[0:k]) || MTH(D[k:n])), k the largest power of two < n
  private static byte[] rootByDefinition(List<byte[]> leaves) throws Exception {
    MessageDigest sha256 = MessageDigest.getInstance("SHA-256");
    if (leaves.size() == 1) {
      sha256.update((byte) 0);
      return sha256.digest(leaves.get(0));
    }
    int k = Integer.highestOneBit(leaves.size() - 1);
    byte[] left = rootByDefinition(leaves.subList(0, k));
    byte[] right = rootByDefinition(leaves.subList(k, leaves.size()));
    sha256.update((byte) 1);
    sha256.update(left);
    return sha256.digest(right);
  }

  @Test
  void goesOnFromItsPeaksAsIfItHadNeverStopped() {
    MerkleTree whole = new MerkleTree();
    MerkleTree resumed = new MerkleTree();
    for (int n = 0; n < 40; n++) {
      byte[] leaf = MerkleTree.leafHash(new byte[] {(byte) n});
      whole.append(leaf);
      resumed = MerkleTree.of(resumed.head().size(), resumed.peaks());
      resumed.append(leaf);
      assertEquals(whole.head(), resumed.head());
    }
  }

  @Test
  void peaksThatDoNotFitTheSizeAreRefused() {
    MerkleTree tree = new MerkleTree();
    tree.append(MerkleTree.leafHash(new byte[0]));
    String one = tree.peaks();
    assertThrows(IllegalArgumentException.class, () -> MerkleTree.of(3, one));
  }
}

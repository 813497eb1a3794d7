package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ProofTest {

  private static final HexFormat HEX = HexFormat.of();

  // transparency-dev/merkle, proof/verify_test.go (Apache-2.0): leaves, roots by size, proofs of inclusion and consistency
  private static final List<String> LEAVES =
      List.of("", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f");
  private static final List<String> ROOTS =
      List.of(
          "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
          "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
          "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
          "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
          "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
          "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
          "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
          "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328");

  private static final String A = "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7";
  private static final String B = "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e";
  private static final String C = "6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4";
  private static final String D = "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b";
  private static final String E = "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0";
  private static final String F = "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7";
  private static final String G = "0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a";
  private static final String H = "b08693ec2e721597130641e8211e7eedccb4c26413963eee6c1e2ed16ffb1a5f";

  @ParameterizedTest
  @CsvSource({
    "1, 1, ''",
    "1, 8, " + A + " " + B + " " + C,
    "6, 8, " + D + " " + E + " " + F,
    "3, 3, fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "2, 5, 6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d " + B + " " + D
  })
  void inclusionIsProvedAsPublished(long number, long size, String path) {
    InclusionProof proof = InclusionProof.of(number, size, subtrees(leafHashes()));
    assertEquals(new InclusionProof(number, size, words(path)), proof);
    assertTrue(proof.holds(leafHashes().get((int) number - 1), ROOTS.get((int) size - 1)));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1, ''",
    "1, 8, " + A + " " + B + " " + C,
    "6, 8, " + G + " " + E + " " + F,
    "2, 5, " + B + " " + D,
    "6, 7, " + G + " " + H + " " + F
  })
  void consistencyIsProvedAsPublished(long first, long second, String path) {
    ConsistencyProof proof = ConsistencyProof.of(first, second, subtrees(leafHashes()));
    assertEquals(new ConsistencyProof(first, second, words(path)), proof);
    assertTrue(proof.holds(ROOTS.get((int) first - 1), ROOTS.get((int) second - 1)));
  }

  private static List<String> words(String text) {
    return text.isEmpty() ? List.of() : List.of(text.split(" "));
  }

  private static List<String> leafHashes() {
    return LEAVES.stream().map(HEX::parseHex).map(MerkleTree::leafHash).map(HEX::formatHex).toList();
  }

  /** The subtrees of these leaves, each computed anew from its leaves. */
  private static FullSubtrees subtrees(List<String> leafHashes) {
    return (level, last) -> {
      MerkleTree tree = new MerkleTree();
      leafHashes.subList((int) (last - (1L << level)), (int) last).forEach(leaf -> tree.append(HEX.parseHex(leaf)));
      return tree.root();
    };
  }

  private static List<String> invented(int size) {
    List<String> leaves = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      leaves.add(HEX.formatHex(MerkleTree.leafHash(new byte[] {(byte) i, 7})));
    }
    return leaves;
  }

  private static List<String> roots(List<String> leaves) {
    MerkleTree tree = new MerkleTree();
    return leaves.stream().map(leaf -> {
      tree.append(HEX.parseHex(leaf));
      return tree.head().root();
    }).toList();
  }

  @Test
  void everyEntryOfEverySizeIsProvedAndNoOtherEntryPlaceOrHead() {
    List<String> leaves = invented(40);
    List<String> roots = roots(leaves);
    FullSubtrees subtrees = subtrees(leaves);
    for (int size = 1; size <= leaves.size(); size++) {
      for (int number = 1; number <= size; number++) {
        InclusionProof proof = InclusionProof.of(number, size, subtrees);
        String leaf = leaves.get(number - 1);
        assertTrue(proof.holds(leaf, roots.get(size - 1)), number + " of " + size);
        assertFalse(proof.holds(leaves.get(number % 40), roots.get(size - 1)), "another entry");
        assertFalse(proof.holds(leaf, roots.get(size % 40)), "another head");
        int other = number == size ? number - 1 : number + 1;
        if (other >= 1) {
          assertFalse(new InclusionProof(other, size, proof.path()).holds(leaf, roots.get(size - 1)), "another place");
        }
        List<String> more = new ArrayList<>(proof.path());
        more.add(leaf);
        assertFalse(new InclusionProof(number, size, more).holds(leaf, roots.get(size - 1)), "something added");
      }
    }
  }

  @Test
  void everyTwoSizesAreProvedConsistentAndNoOtherLog() {
    List<String> leaves = invented(40);
    List<String> roots = roots(leaves);
    List<String> altered = new ArrayList<>(leaves);
    altered.set(0, leaves.get(1));
    List<String> alteredRoots = roots(altered);
    for (int second = 1; second <= leaves.size(); second++) {
      for (int first = 1; first <= second; first++) {
        ConsistencyProof proof = ConsistencyProof.of(first, second, subtrees(leaves));
        assertTrue(proof.holds(roots.get(first - 1), roots.get(second - 1)), first + " to " + second);
        assertFalse(proof.holds(alteredRoots.get(first - 1), roots.get(second - 1)), "another beginning");
        ConsistencyProof forged = ConsistencyProof.of(first, second, subtrees(altered));
        assertFalse(forged.holds(roots.get(first - 1), alteredRoots.get(second - 1)), "rewritten since");
      }
    }
  }
}

package ferrule.ledger;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.HexFormat;
import java.util.Optional;
import java.util.UUID;

/**
 * A statement in its place in the log.
 *
 * @param number its place, counted from 1
 * @param said the statement
 * @param leafHash the hash of the text that was signed
 * @param rootHash the hash of the log up to and with this entry
 * @param subtreeHash the root of the largest full subtree of the log that this entry completes; empty where it is not
 *     kept, as in files, because it follows from the leaves
 * @param redactedBy the number of the erasure that put the text in the place of the signed one, if one did
 */
public record LogEntry(
    long number, Statement said, String leafHash, String rootHash, Optional<String> subtreeHash,
    Optional<Long> redactedBy) {

  private static final HexFormat HEX = HexFormat.of();

  /** An entry with the text that was signed. */
  public LogEntry(long number, Statement said, String leafHash, String rootHash, Optional<String> subtreeHash) {
    this(number, said, leafHash, rootHash, subtreeHash, Optional.empty());
  }

  /** Appends a statement to a tree and returns its entry. */
  static LogEntry append(MerkleTree tree, Statement said) {
    byte[] leaf = tree.leaf(said.text().getBytes(StandardCharsets.UTF_8));
    byte[] subtree = tree.append(leaf);
    TreeHead head = tree.head();
    return new LogEntry(head.size(), said, HEX.formatHex(leaf), head.root(), Optional.of(HEX.formatHex(subtree)));
  }

  /** Names the statement for ever. */
  public UUID id() {
    return said.id();
  }

  /** What sort of statement it is. */
  public String kind() {
    return said.kind();
  }

  /** The person whose record it belongs to, if it is about one. */
  public Optional<UUID> subject() {
    return said.subject();
  }

  /** When it was signed. */
  public Instant at() {
    return said.at();
  }

  /** The statement as canonical JSON, as it was signed or as an erasure left it. */
  public String body() {
    return said.text();
  }

  /** The head of the log when this entry was its last. */
  public TreeHead head() {
    return new TreeHead(number, rootHash);
  }
}

package ferrule.bench;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A record in its place in the log, with all that is stored of it.
 *
 * @param number its place, counted from 1
 * @param id of the record
 * @param kind of the record
 * @param apprentice whose work it is about
 * @param supersedes the record whose place it takes
 * @param draft that it was signed from
 * @param at when it was signed
 * @param body the record as canonical JSON
 * @param leafHash the hash of the body
 * @param rootHash the hash of the log up to and with this record
 */
public record LogEntry(
    long number,
    UUID id,
    String kind,
    UUID apprentice,
    Optional<UUID> supersedes,
    Optional<UUID> draft,
    Instant at,
    String body,
    String leafHash,
    String rootHash) {

  /** Appends a record to a tree and returns its entry. */
  static LogEntry append(MerkleTree tree, BenchRecord record) {
    String body = RecordJson.write(record);
    String leaf = tree.leafHash(body.getBytes(StandardCharsets.UTF_8));
    tree.append(leaf);
    TreeHead head = tree.head();
    return of(head.size(), record, body, leaf, head.root());
  }

  /** The entry of a record whose hashes are given. */
  static LogEntry of(long number, BenchRecord record, String body, String leafHash, String rootHash) {
    return new LogEntry(
        number, record.id(), record.kind(), record.apprentice(), record.supersedes(), record.draft(),
        record.signature().at(), body, leafHash, rootHash);
  }

  /** The record itself. */
  public BenchRecord record() {
    return RecordJson.read(body);
  }

  /** The head of the log when this record was its last. */
  public TreeHead head() {
    return new TreeHead(number, rootHash);
  }
}

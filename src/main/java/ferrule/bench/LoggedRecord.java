package ferrule.bench;

import ferrule.ledger.LogEntry;
import ferrule.ledger.TreeHead;
import java.time.Instant;
import java.util.UUID;

/**
 * A record in its place in the log.
 *
 * @param entry its place and hashes
 * @param record what was signed
 */
public record LoggedRecord(LogEntry entry, BenchRecord record) {

  /**
   * The record that this entry holds.
   *
   * @throws IllegalArgumentException if it holds something else
   */
  static LoggedRecord of(LogEntry entry) {
    return new LoggedRecord(entry, RecordJson.read(entry.body()));
  }

  /** Names the record for ever. */
  public UUID id() {
    return record.id();
  }

  /** Its place in the log, counted from 1. */
  public long number() {
    return entry.number();
  }

  /** What it is called. */
  public String kind() {
    return record.kind();
  }

  /** Whose work it is about. */
  public UUID apprentice() {
    return record.apprentice();
  }

  /** When it was signed. */
  public Instant at() {
    return entry.at();
  }

  /** The number of the erasure that took something out of its text; 0 if none did. */
  public long redactedBy() {
    return entry.redactedBy().orElse(0L);
  }

  /** The hash of the text that was signed. */
  public String leafHash() {
    return entry.leafHash();
  }

  /** The hash of the log up to and with it. */
  public String rootHash() {
    return entry.rootHash();
  }

  /** The head of the log when this record was its last entry. */
  public TreeHead head() {
    return entry.head();
  }
}

package ferrule.ledger;

import java.nio.charset.StandardCharsets;
import java.util.Optional;

/**
 * Recomputes a log from its records, in order, and finds the first one that has been touched.
 *
 * <p>What it proves: that the records are those, and in that order, which the stored hashes were computed from; with a
 * head that was noted earlier outside of the database, that the first records are still those of that day. What it does
 * not prove: somebody who can write to the database can alter a record and recompute every hash after it; only a head
 * kept elsewhere shows that. It says nothing about whether the instructor judged well.
 *
 * <p>Use: {@link #accept} each entry in the order of its number, then {@link #finish}.
 */
public final class LogCheck {

  /** The outcome. */
  public sealed interface Result permits Sound, Touched {}

  /**
   * Nothing has been touched.
   *
   * @param head of the log, to be noted elsewhere
   */
  public record Sound(TreeHead head) implements Result {}

  /**
   * The log has been touched.
   *
   * @param number of the first record that is not as it was
   * @param sentence what is wrong with it
   */
  public record Touched(long number, String sentence) implements Result {}

  private final MerkleTree tree = new MerkleTree();
  private final Optional<TreeHead> noted;
  private Optional<Touched> first = Optional.empty();
  private long count;

  /**
   * A check of a log.
   *
   * @param noted a head that was noted earlier and kept elsewhere, if there is one
   */
  public LogCheck(Optional<TreeHead> noted) {
    this.noted = noted;
    compareWithNoted();
  }

  /** Takes the next entry. */
  public void accept(LogEntry entry) {
    if (first.isPresent()) {
      return;
    }
    long expected = count + 1;
    if (entry.number() != expected) {
      boolean removed = entry.number() > expected;
      touched(expected, removed ? "record " + expected + " has been removed"
          : "a record with the number " + entry.number() + " has been inserted");
      return;
    }
    count = expected;
    checkAlone(entry);
    if (first.isEmpty()) {
      tree.append(entry.leafHash());
      checkPlace(entry);
    }
  }

  private void checkAlone(LogEntry entry) {
    String name = "record " + entry.number() + " (" + entry.kind() + " " + entry.id() + ") has been altered: ";
    if (!entry.leafHash().equals(tree.leafHash(entry.body().getBytes(StandardCharsets.UTF_8)))) {
      touched(entry.number(), name + "its text no longer has the hash that stands beside it");
      return;
    }
    try {
      if (!Statement.read(entry.body()).equals(entry.said())) {
        touched(entry.number(), name + "what is stored beside its text does not agree with it");
      }
    } catch (IllegalArgumentException e) {
      touched(entry.number(), name + e.getMessage());
    }
  }

  private void checkPlace(LogEntry entry) {
    if (!tree.head().root().equals(entry.rootHash())) {
      touched(entry.number(), "record " + entry.number() + " (" + entry.kind() + " " + entry.id()
          + ") does not follow from the records before it: it has been altered, inserted or moved, or its hash has");
      return;
    }
    compareWithNoted();
  }

  private void compareWithNoted() {
    noted.filter(head -> head.size() == count && !head.equals(tree.head()))
        .ifPresent(head -> touched(count, "the first " + count + " records are not those of the noted head: one or more "
            + "of them has been altered, removed or inserted since, and the hashes have been recomputed"));
  }

  private void touched(long number, String sentence) {
    first = Optional.of(new Touched(number, sentence));
  }

  /**
   * The outcome, after the last entry.
   *
   * @param stored the head that is stored beside the log; empty if it is gone or cannot be read
   */
  public Result finish(Optional<TreeHead> stored) {
    if (first.isEmpty()) {
      noted.filter(head -> head.size() > count).ifPresent(head -> missing(head.size(), "the noted head"));
    }
    if (first.isEmpty()) {
      stored.ifPresentOrElse(
          this::compareWithStored, () -> touched(count, "the log's own head is gone or cannot be read"));
    }
    return first.isPresent() ? first.get() : new Sound(tree.head());
  }

  private void compareWithStored(TreeHead stored) {
    if (stored.size() > count) {
      missing(stored.size(), "the log's own head");
    } else if (stored.size() < count) {
      touched(stored.size() + 1, "record " + (stored.size() + 1) + " has been inserted: the log's own head counts only "
          + stored.size() + " records");
    } else if (!stored.equals(tree.head())) {
      touched(count, "the log's own head has been altered: it is not the head of these " + count + " records");
    }
  }

  private void missing(long expected, String witness) {
    touched(count + 1, "record " + (count + 1) + " has been removed: " + witness + " counts " + expected
        + " records, and only " + count + " are there");
  }
}

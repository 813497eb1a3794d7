package ferrule.ledger;

import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Pattern;

/**
 * Recomputes a log from its entries, in order, and finds the first one that has been touched.
 *
 * <p>What it proves: that the entries are those, and in that order, which the stored hashes were computed from; with a
 * head that was noted or signed earlier and kept outside of the database, that the first entries are still those of that
 * day. What it does not prove: somebody who can write to the database can alter an entry and recompute every hash after
 * it; only a head kept elsewhere shows that. It says nothing about whether what was signed is true.
 *
 * <p>An entry whose text is not the one that was signed is accepted if it is marked as redacted by a later entry, that
 * entry is a sound erasure, and vouches for exactly the text that stands there. That no erasure took more away than it
 * says, such as a name, cannot be told without the text that is gone.
 *
 * <p>Cost: one pass that holds one entry at a time; for each, a hash of its text, one parse that makes no tree, and at
 * most 2 log2 n hashes of 65 bytes.
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
   * @param redacted how many records have a text that an erasure vouches for in place of the signed one
   */
  public record Sound(TreeHead head, long redacted) implements Result {

    /** A log in which every text is the signed one. */
    public Sound(TreeHead head) {
      this(head, 0);
    }
  }

  /**
   * The log has been touched.
   *
   * @param number of the first record that is not as it was
   * @param sentence what is wrong with it
   */
  public record Touched(long number, String sentence) implements Result {}

  private record Witness(TreeHead head, String name) {}

  private static final HexFormat HEX = HexFormat.of();
  private static final Pattern HASH = Pattern.compile("[0-9a-f]{64}");

  private final MerkleTree tree = new MerkleTree();
  private final TreeMap<Long, Witness> ahead = new TreeMap<>();
  // by the number of the erasure that is still to come: the hashes of the texts that it is to vouch for, by record
  private final TreeMap<Long, TreeMap<Long, String>> awaited = new TreeMap<>();
  private long redacted;
  private Optional<Touched> first = Optional.empty();
  private long count;
  private long agreed;

  /** A check of a log. */
  public LogCheck(Witnesses witnesses) {
    witnesses.forged().ifPresent(head -> touched(
        head.head().size(), "the signed head of " + head.head().size() + " records of " + head.at()
            + " has been altered: its signature does not fit"));
    for (SignedHead signed : witnesses.signed()) {
      ahead.put(signed.head().size(), new Witness(signed.head(), "the head that was signed on " + signed.at()));
    }
    witnesses.noted().ifPresent(this::expectNoted);
    askWitness();
  }

  private void expectNoted(TreeHead head) {
    Witness signed = ahead.get(head.size());
    if (signed != null && !signed.head().equals(head)) {
      touched(head.size(), "the head that was signed at " + head.size() + " records is not the noted head");
    }
    ahead.put(head.size(), new Witness(head, "the noted head"));
  }

  /** The first record that has been touched, if one was found so far. */
  Optional<Touched> touched() {
    return first;
  }

  /** Takes the next entry. */
  public void accept(LogEntry entry) {
    if (first.isEmpty()) {
      accept(entry, leafOf(entry));
    }
  }

  /** The leaf of an entry's text, as it is computed. */
  byte[] leafOf(LogEntry entry) {
    return tree.leaf(entry.body().getBytes(StandardCharsets.UTF_8));
  }

  /** Takes the next entry, whose leaf has been computed. */
  void accept(LogEntry entry, byte[] leaf) {
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
    checkAlone(entry, HEX.formatHex(leaf));
    if (first.isEmpty()) {
      byte[] signed = entry.redactedBy().isPresent() ? HEX.parseHex(entry.leafHash()) : leaf;
      checkPlace(entry, HEX.formatHex(tree.append(signed)));
    }
    if (first.isEmpty()) {
      hear(entry);
    }
  }

  private void checkAlone(LogEntry entry, String leaf) {
    if (entry.redactedBy().isPresent()) {
      checkRedacted(entry, leaf, entry.redactedBy().get());
    } else if (!entry.leafHash().equals(leaf)) {
      touched(entry, " has been altered: its text no longer has the hash that stands beside it");
    }
    if (first.isPresent()) {
      return;
    }
    try {
      if (!Statement.read(entry.body()).equals(entry.said())) {
        touched(entry, " has been altered: what is stored beside its text does not agree with it");
      }
    } catch (IllegalArgumentException e) {
      touched(entry, " has been altered: " + e.getMessage());
    }
  }

  private void checkRedacted(LogEntry entry, String leaf, long erasure) {
    if (entry.leafHash().equals(leaf)) {
      touched(entry, " has been altered: it is marked as redacted, and its text is the one that was signed");
    } else if (erasure <= entry.number() || entry.kind().equals(Erasure.KIND) || !HASH.matcher(entry.leafHash()).matches()) {
      touched(entry, " has been altered: its text no longer has the hash that stands beside it, and no erasure can have"
          + " redacted it");
    } else {
      awaited.computeIfAbsent(erasure, e -> new TreeMap<>()).put(entry.number(), leaf);
    }
  }

  /** Lets an entry vouch for the redacted texts that name it, which it does only if it is an erasure of these texts. */
  private void hear(LogEntry entry) {
    Map<Long, String> expected = awaited.containsKey(entry.number()) ? awaited.remove(entry.number()) : Map.of();
    Map<Long, String> vouched = Map.of();
    try {
      vouched = Erasure.vouched(entry);
    } catch (IllegalArgumentException e) {
      touched(entry, " has been altered: " + e.getMessage());
    }
    for (Map.Entry<Long, String> text : expected.entrySet()) {
      if (text.getValue().equals(vouched.get(text.getKey()))) {
        redacted++;
      } else {
        accept(new Touched(text.getKey(), "record " + text.getKey() + " has been altered: it is marked as redacted by"
            + " record " + entry.number() + ", which does not vouch for the text that stands there"));
      }
    }
    for (long number : vouched.keySet()) {
      if (!expected.containsKey(number) && awaited.values().stream().noneMatch(later -> later.containsKey(number))) {
        accept(new Touched(number, "record " + number + " has been altered: it no longer has the text that erasure no. "
            + entry.number() + " left it with"));
      }
    }
  }

  private void checkPlace(LogEntry entry, String subtree) {
    if (!HEX.formatHex(tree.root()).equals(entry.rootHash())) {
      touched(entry, " does not follow from the records before it: it has been altered, inserted or moved, or its hash"
          + " has");
    } else if (entry.subtreeHash().filter(stored -> !stored.equals(subtree)).isPresent()) {
      touched(entry, " has been altered: its subtree's hash does not follow from the records before it");
    } else {
      askWitness();
    }
  }

  private void touched(LogEntry entry, String sentence) {
    touched(entry.number(), "record " + entry.number() + " (" + entry.kind() + " " + entry.id() + ")" + sentence);
  }

  private void askWitness() {
    if (ahead.isEmpty() || ahead.firstKey() != count) {
      return;
    }
    Witness witness = ahead.pollFirstEntry().getValue();
    if (!witness.head().equals(tree.head())) {
      touched(count, "the first " + count + " records are not those of " + witness.name() + ": one or more of records "
          + (agreed + 1) + " to " + count + " has been altered, removed or inserted since, and the hashes have been"
          + " recomputed");
    }
    agreed = count;
  }

  private void touched(long number, String sentence) {
    if (first.isEmpty()) {
      first = Optional.of(new Touched(number, sentence));
    }
  }

  /** Takes note of what was found beside the log; of two findings the one of the earlier record counts. */
  void accept(Touched other) {
    if (first.isEmpty() || other.number() < first.get().number()) {
      first = Optional.of(other);
    }
  }

  /**
   * The outcome, after the last entry.
   *
   * @param stored the head that is stored beside the log; empty if it is gone or cannot be read
   */
  public Result finish(Optional<TreeHead> stored) {
    if (first.isEmpty() && !ahead.isEmpty()) {
      Witness last = ahead.lastEntry().getValue();
      missing(last.head().size(), last.name());
    }
    if (first.isEmpty()) {
      stored.ifPresentOrElse(
          this::compareWithStored, () -> touched(count, "the log's own head is gone or cannot be read"));
    }
    awaited.forEach(this::notVouched);
    return first.isPresent() ? first.get() : new Sound(tree.head(), redacted);
  }

  private void notVouched(long erasure, TreeMap<Long, String> texts) {
    long number = texts.firstKey();
    if (first.filter(found -> found.number() <= erasure).isEmpty()) {
      accept(new Touched(number, "record " + number + " has been altered: it is marked as redacted by record " + erasure
          + ", which is not in the log"));
    } else if (first.get().number() > number) {
      // the erasure may have been sound: what was found lies before it or is the erasure itself
      first = first.map(found -> new Touched(found.number(), found.sentence() + "; whether an erasure vouches for the text"
          + " of record " + number + " can only be told once that is put right"));
    }
  }

  /** The same, with what features keep beside the log. */
  Result finish(Optional<TreeHead> stored, List<Vouched> vouched) {
    Result result = finish(stored);
    if (result instanceof Sound) {
      vouched.stream().flatMap(v -> v.inserted().stream()).findFirst()
          .ifPresent(sentence -> touched(count + 1, sentence));
    }
    return first.isPresent() ? first.get() : result;
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

package ferrule.naming;

import java.util.Arrays;
import java.util.List;

/**
 * Finds the words of a list that are within one or two edits of a given word, by symmetric deletion: two words within k
 * edits of each other share a form that each reaches by deleting at most k letters (a swap of neighbours counts as one
 * edit: delete one of the two from each word). So the list's words are stored once under each of their shortened forms,
 * and a look-up forms the shortened forms of the given word and gathers what is stored under them; the distance itself
 * is then computed for the few words gathered.
 *
 * <p>Cost: a word of n letters has n + 1 forms within one deletion and about n²/2 within two, however long the list is;
 * the hash of each is computed from prefix hashes without making the form. Forms with equal hashes cost a comparison and
 * can do no harm. The idea is that of the "deletion neighbourhood" of T. Bocek, E. Hunt and B. Stiller, Fast Similarity
 * Search in Large Dictionaries (University of Zurich, 2007), from memory.
 */
final class DeletionIndex {

  private static final long BASE = 0x9E3779B97F4A7C15L;
  private static final long MIX = 0xD6E8FEB86659FD93L;
  private static final int LONGEST = 48;
  private static final long[] POWER = new long[LONGEST + 1];

  static {
    POWER[0] = 1;
    for (int i = 1; i <= LONGEST; i++) {
      POWER[i] = POWER[i - 1] * BASE;
    }
  }

  private final String[] words;
  private final int edits;
  private final long[] keys;
  private final int[] first;
  private int[] next = new int[64];
  private int[] word = new int[64];
  private int links;

  /**
   * An index of words; a word is known by its place in the list.
   *
   * @param words the words, each of at most 48 letters
   * @param edits how many edits away a word is to be found, 1 or 2
   */
  DeletionIndex(List<String> words, int edits) {
    this.words = words.toArray(new String[0]);
    this.edits = edits;
    long forms = words.stream().mapToLong(w -> 1 + w.length() + (edits - 1L) * w.length() * w.length() / 2).sum();
    int size = Integer.highestOneBit((int) Math.min(1 << 28, Math.max(16, forms))) * 4;
    this.keys = new long[size];
    this.first = new int[size];
    Arrays.fill(first, -1);
    for (int i = 0; i < this.words.length; i++) {
      int at = i;
      forEachForm(this.words[i], edits, hash -> store(hash, at));
    }
  }

  private void store(long hash, int wordAt) {
    int slot = slotOf(hash);
    for (int link = first[slot]; link >= 0; link = next[link]) {
      if (word[link] == wordAt) {
        return;
      }
    }
    if (links == next.length) {
      next = Arrays.copyOf(next, links * 2);
      word = Arrays.copyOf(word, links * 2);
    }
    keys[slot] = hash;
    next[links] = first[slot];
    word[links] = wordAt;
    first[slot] = links++;
  }

  private int slotOf(long hash) {
    int mask = keys.length - 1;
    long mixed = (hash ^ hash >>> 32) * MIX;
    int slot = (int) (mixed ^ mixed >>> 32) & mask;
    while (first[slot] >= 0 && keys[slot] != hash) {
      slot = slot + 1 & mask;
    }
    return slot;
  }

  /** Takes the words found. */
  interface Found {
    /**
     * Takes one word; the same word may come more than once.
     *
     * @param place its place in the list
     * @param distance its distance
     */
    void word(int place, int distance);
  }

  /**
   * Gives every word of the list that is within the index's number of edits of a word.
   *
   * @return how many stored words were looked at, a measure of the work done
   */
  int near(String typed, Found found) {
    if (typed.length() > LONGEST) {
      return 0;
    }
    int[] looked = new int[1];
    forEachForm(typed, edits, hash -> {
      looked[0]++;
      for (int link = first[slotOf(hash)]; link >= 0; link = next[link]) {
        looked[0]++;
        int distance = DamerauLevenshtein.within(typed, words[word[link]], edits);
        if (distance <= edits) {
          found.word(word[link], distance);
        }
      }
    });
    return looked[0];
  }

  private interface Form {
    void hash(long value);
  }

  private static void forEachForm(String text, int deletions, Form form) {
    int n = text.length();
    long[] prefix = new long[n + 1];
    for (int i = 0; i < n; i++) {
      prefix[i + 1] = prefix[i] * BASE + text.charAt(i) + 1;
    }
    form.hash(prefix[n]);
    for (int i = 0; i < n; i++) {
      form.hash(prefix[i] * POWER[n - 1 - i] + stretch(prefix, i + 1, n));
    }
    if (deletions < 2) {
      return;
    }
    for (int i = 0; i < n; i++) {
      for (int j = i + 1; j < n; j++) {
        long start = prefix[i] * POWER[j - i - 1] + stretch(prefix, i + 1, j);
        form.hash(start * POWER[n - 1 - j] + stretch(prefix, j + 1, n));
      }
    }
  }

  private static long stretch(long[] prefix, int from, int to) {
    return prefix[to] - prefix[from] * POWER[to - from];
  }
}

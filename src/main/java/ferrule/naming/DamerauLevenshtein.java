package ferrule.naming;

import java.util.Arrays;

/**
 * The Damerau-Levenshtein distance in its optimal string alignment form: the least number of insertions, deletions,
 * substitutions and swaps of neighbours that turn one word into the other, no stretch being edited twice. So "ca" to
 * "abc" is 3 here, and 2 in the unrestricted form.
 *
 * <p>Only a band of the matrix as wide as the bound is filled, so that a comparison costs at most (2 bound + 1) times the
 * length of the word.
 */
public final class DamerauLevenshtein {

  private DamerauLevenshtein() {}

  /**
   * The distance if it is within a bound.
   *
   * @param bound the largest distance of interest, at least 0
   * @return the distance, or {@code bound + 1} if it is larger than the bound
   */
  public static int within(String a, String b, int bound) {
    int end = Math.min(a.length(), b.length());
    if (Math.abs(a.length() - b.length()) > bound) {
      return bound + 1;
    }
    // What two words have in common at either end cannot add to their distance.
    int start = 0;
    while (start < end && a.charAt(start) == b.charAt(start)) {
      start++;
    }
    int tail = 0;
    while (tail < end - start && a.charAt(a.length() - 1 - tail) == b.charAt(b.length() - 1 - tail)) {
      tail++;
    }
    return between(a.substring(start, a.length() - tail), b.substring(start, b.length() - tail), bound);
  }

  private static int between(String a, String b, int bound) {
    int n = a.length();
    int m = b.length();
    int far = bound + 1;
    if (n == 0 || m == 0) {
      return Math.min(Math.max(n, m), far);
    }
    int[] twoBack = new int[m + 1];
    int[] back = new int[m + 1];
    int[] row = new int[m + 1];
    for (int j = 0; j <= m; j++) {
      back[j] = Math.min(j, far);
    }
    for (int i = 1; i <= n; i++) {
      int from = Math.max(1, i - bound);
      int to = Math.min(m, i + bound);
      Arrays.fill(row, far);
      row[0] = Math.min(i, far);
      for (int j = from; j <= to; j++) {
        int cost = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        int best = Math.min(back[j - 1] + cost, Math.min(back[j], row[j - 1]) + 1);
        if (cost == 1 && i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1)) {
          best = Math.min(best, twoBack[j - 2] + 1);
        }
        row[j] = Math.min(best, far);
      }
      int[] spare = twoBack;
      twoBack = back;
      back = row;
      row = spare;
    }
    return back[m];
  }
}

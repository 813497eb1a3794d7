package ferrule.ledger;

import java.util.Locale;
import java.util.regex.Pattern;

/**
 * What one sentence can say of the whole log: how many records, and the hash that stands for all of them in their
 * order.
 *
 * @param size number of records
 * @param root 64 hexadecimal digits
 */
public record TreeHead(long size, String root) {

  private static final Pattern HASH = Pattern.compile("[0-9a-f]{64}");

  /** Checks size and shape. */
  public TreeHead {
    root = root.toLowerCase(Locale.ROOT);
    if (size < 0 || !HASH.matcher(root).matches()) {
      throw new IllegalArgumentException(
          "a tree head is a number of records and 64 hexadecimal digits; given: " + size + ", " + root);
    }
  }
}

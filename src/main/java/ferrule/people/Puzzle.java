package ferrule.people;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * A sum that costs a browser a moment: find a number for which the SHA-256 of {@code id:number} begins with so many zero
 * bits (Back, "Hashcash", 2002). {@code static/sign-in.js} works it out.
 *
 * @param id random, made for one guess
 * @param bits that must be zero
 */
public record Puzzle(String id, int bits) {

  /** Whether this number solves it. */
  public boolean isSolvedBy(long number) {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256").digest((id + ":" + number).getBytes(StandardCharsets.US_ASCII));
      return zeroBits(hash) >= bits;
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  private static int zeroBits(byte[] hash) {
    int zeros = 0;
    for (byte b : hash) {
      int here = Integer.numberOfLeadingZeros(b & 0xff) - 24;
      zeros += here;
      if (here < 8) {
        break;
      }
    }
    return zeros;
  }

  /** A number offered as the solution of the puzzle with this id. */
  public record Solution(String id, long number) {}
}

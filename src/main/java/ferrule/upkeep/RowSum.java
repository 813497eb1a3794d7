package ferrule.upkeep;

import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/**
 * A fingerprint of a table's rows that does not depend on their order, so that the same rows have the same one in every
 * database: the sum of the rows' SHA-256 hashes modulo 2^256 (the additive hash of Bellare and Micciancio, "A new paradigm
 * for collision-free hashing", 1997), with their number. It finds rows that were lost, doubled or altered by a fault; what
 * holds against somebody who means harm is the log of records.
 */
final class RowSum {

  private static final BigInteger MASK = BigInteger.ONE.shiftLeft(256).subtract(BigInteger.ONE);

  private final MessageDigest sha256;
  private BigInteger sum = BigInteger.ZERO;
  private long rows;

  RowSum() {
    try {
      sha256 = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** Takes a row, as it is written. */
  void add(String row) {
    sum = sum.add(new BigInteger(1, sha256.digest(row.getBytes(StandardCharsets.UTF_8)))).and(MASK);
    rows++;
  }

  long rows() {
    return rows;
  }

  /** The fingerprint in 64 hex digits. */
  String hex() {
    return String.format("%064x", sum);
  }
}

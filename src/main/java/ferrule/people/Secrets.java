package ferrule.people;

import com.password4j.Argon2Function;
import com.password4j.Password;
import com.password4j.types.Argon2;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.HexFormat;
import java.util.concurrent.Semaphore;
import java.util.function.Supplier;

/**
 * Hashes for passwords and PINs, and random tokens.
 *
 * <p>Argon2id (RFC 9106) with 19 MiB, 2 passes and 1 lane, a 16-byte salt and a 32-byte tag. A stored hash carries its
 * own parameters, so that raising them here leaves old hashes valid.
 */
public final class Secrets {

  private static final Argon2Function ARGON2ID = Argon2Function.getInstance(19_456, 2, 1, 32, Argon2.ID);
  private static final SecureRandom RANDOM = new SecureRandom();
  // each takes 19 MiB and a core: a whole class at once waits its turn, first come first served
  private static final Semaphore TURNS = new Semaphore(Math.max(2, Runtime.getRuntime().availableProcessors()), true);
  private static final String UNKNOWN = hash(token());

  private Secrets() {}

  /** The hash of a password or PIN, with its salt and parameters, in the usual text form. */
  public static String hash(String secret) {
    return inTurn(() -> Password.hash(secret).addRandomSalt(16).with(ARGON2ID).getResult());
  }

  /** Whether the secret is the one that was hashed. */
  public static boolean matches(String secret, String hash) {
    return inTurn(() -> Password.check(secret, hash).with(Argon2Function.getInstanceFromHash(hash)));
  }

  private static <T> T inTurn(Supplier<T> work) {
    TURNS.acquireUninterruptibly();
    try {
      return work.get();
    } finally {
      TURNS.release();
    }
  }

  /** The hash of a random secret that nobody knows; the same one until the program ends. */
  static String unknown() {
    return UNKNOWN;
  }

  /** Takes the time of a comparison and returns false: for a name that has no account, so that time does not tell which have. */
  public static boolean matchesNobody(String secret) {
    matches(secret, UNKNOWN);
    return false;
  }

  /** A new random token of 256 bits, safe in a cookie and in an address. */
  public static String token() {
    byte[] bytes = new byte[32];
    RANDOM.nextBytes(bytes);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  /** The SHA-256 of a token in hex: what is stored in its place. */
  public static String digest(String token) {
    try {
      byte[] hash = MessageDigest.getInstance("SHA-256").digest(token.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(hash);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}

package ferrule.people;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.OptionalLong;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * One-time codes from the time (RFC 6238) over counters (RFC 4226): six digits, a new one every 30 seconds,
 * HMAC-SHA-1, as every authenticator makes them.
 *
 * @param secret 160 bits or more, shared with the authenticator
 */
public record OneTimeCode(byte[] secret) {

  /** How long one code is shown, in seconds. */
  public static final int STEP_SECONDS = 30;

  private static final int DIGITS = 6;
  private static final int SECRET_BYTES = 20;
  private static final int[] POWERS = {1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000};
  private static final String BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

  /** Copies the secret. */
  public OneTimeCode {
    secret = secret.clone();
  }

  /** A copy of the secret. */
  @Override
  public byte[] secret() {
    return secret.clone();
  }

  /** With a new random secret. */
  public static OneTimeCode random() {
    byte[] secret = new byte[SECRET_BYTES];
    new SecureRandom().nextBytes(secret);
    return new OneTimeCode(secret);
  }

  /** With the secret that {@link #base32} wrote. */
  public static OneTimeCode parse(String base32) {
    ByteBuffer bytes = ByteBuffer.allocate(base32.length() * 5 / 8);
    int held = 0;
    int bits = 0;
    for (char c : base32.toCharArray()) {
      int value = BASE32.indexOf(c);
      if (value < 0) {
        throw new IllegalArgumentException("a secret is written in A to Z and 2 to 7");
      }
      held = held << 5 | value;
      bits += 5;
      if (bits >= 8) {
        bits -= 8;
        bytes.put((byte) (held >> bits));
        held &= (1 << bits) - 1;
      }
    }
    return new OneTimeCode(bytes.array());
  }

  /** The secret as people type it into an authenticator (RFC 4648, 6), without padding. */
  public String base32() {
    StringBuilder text = new StringBuilder();
    int held = 0;
    int bits = 0;
    for (byte b : secret) {
      held = held << 8 | b & 0xff;
      bits += 8;
      while (bits >= 5) {
        bits -= 5;
        text.append(BASE32.charAt(held >> bits));
        held &= (1 << bits) - 1;
      }
    }
    if (bits > 0) {
      text.append(BASE32.charAt(held << (5 - bits)));
    }
    return text.toString();
  }

  /** The address that an authenticator reads from a picture. */
  public String address(String issuer, String account) {
    return "otpauth://totp/" + encoded(issuer) + ":" + encoded(account) + "?secret=" + base32() + "&issuer="
        + encoded(issuer);
  }

  private static String encoded(String text) {
    return java.net.URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
  }

  /** The code that is shown at this moment. */
  public String at(Instant moment) {
    return at(step(moment), DIGITS);
  }

  /**
   * The step of time that a code belongs to, if it is right now or was or will be one step away: clocks differ, and
   * typing takes time.
   *
   * @param last the last step whose code was taken: that one and earlier ones are right no more
   */
  public OptionalLong step(String code, Instant now, long last) {
    long step = step(now);
    for (long s = step - 1; s <= step + 1; s++) {
      if (s > last && java.security.MessageDigest.isEqual(
          at(s, DIGITS).getBytes(StandardCharsets.US_ASCII), code.getBytes(StandardCharsets.UTF_8))) {
        return OptionalLong.of(s);
      }
    }
    return OptionalLong.empty();
  }

  static long step(Instant moment) {
    return Math.floorDiv(moment.getEpochSecond(), (long) STEP_SECONDS);
  }

  /** The code of a counter with so many digits, 6 to 8 (RFC 4226, 5.3). */
  String at(long counter, int digits) {
    try {
      Mac mac = Mac.getInstance("HmacSHA1");
      mac.init(new SecretKeySpec(secret, "RAW"));
      byte[] hash = mac.doFinal(ByteBuffer.allocate(Long.BYTES).putLong(counter).array());
      int offset = hash[hash.length - 1] & 0xf;
      int binary = ByteBuffer.wrap(hash, offset, Integer.BYTES).getInt() & 0x7fff_ffff;
      return String.format("%0" + digits + "d", binary % POWERS[digits]);
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has HMAC-SHA-1", e);
    }
  }
}

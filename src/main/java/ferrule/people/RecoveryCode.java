package ferrule.people;

import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * A code on paper that stands in once for a one-time code: twelve characters, 60 random bits, such as
 * {@code 7K2M-QX4D-VN8T}, without those that look alike.
 *
 * @param text twelve characters without the dashes
 */
public record RecoveryCode(String text) {

  /** How many are made at once. */
  public static final int COUNT = 10;

  private static final String ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"; // Crockford's
  private static final int LENGTH = 12;
  private static final int GROUP = 4;
  private static final SecureRandom RANDOM = new SecureRandom();

  /** Checks the length. */
  public RecoveryCode {
    if (text.length() != LENGTH) {
      throw new IllegalArgumentException("a recovery code has " + LENGTH + " characters; given: " + text.length());
    }
  }

  /** New codes, each with another beginning. */
  static List<RecoveryCode> random() {
    List<RecoveryCode> codes = new ArrayList<>();
    Set<String> starts = new LinkedHashSet<>();
    while (codes.size() < COUNT) {
      StringBuilder text = new StringBuilder();
      for (int i = 0; i < LENGTH; i++) {
        text.append(ALPHABET.charAt(RANDOM.nextInt(ALPHABET.length())));
      }
      RecoveryCode code = new RecoveryCode(text.toString());
      if (starts.add(code.starts())) {
        codes.add(code);
      }
    }
    return codes;
  }

  /** The code that somebody typed, with or without dashes, with O for 0 and I or L for 1; empty if it can be none. */
  static Optional<RecoveryCode> read(String typed) {
    String text = typed.toUpperCase(Locale.ROOT).replaceAll("[^0-9A-Z]", "").replace('O', '0').replaceAll("[IL]", "1");
    return text.length() == LENGTH ? Optional.of(new RecoveryCode(text)) : Optional.empty();
  }

  /** Its first four characters, by which it is found. */
  String starts() {
    return text.substring(0, GROUP);
  }

  /** As it is shown, such as {@code 7K2M-QX4D-VN8T}. */
  @Override
  public String toString() {
    return text.substring(0, GROUP) + "-" + text.substring(GROUP, 2 * GROUP) + "-" + text.substring(2 * GROUP);
  }
}

package ferrule.people;

import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What a password must be to be taken, after NIST SP 800-63B, 5.1.1.2: long, and none that is known from breaches, made
 * of one thing over and over, or of names that everybody here knows. Nothing else is asked: no capitals, no digits.
 */
public final class PasswordRule {

  /** The fewest characters. */
  public static final int SHORTEST = 12;
  /** The most characters; far beyond what anyone types, so that hashing one stays cheap. */
  public static final int LONGEST = 200;

  // what must be left of a password without the names that everybody here knows
  private static final int LEFT_WITHOUT_NAMES = 8;
  private static final List<String> EVERYBODY_KNOWS = List.of("ferrule", "password", "passwort");

  private PasswordRule() {}

  /**
   * Why a password is not taken, in a sentence for whoever chose it; empty if it is.
   *
   * @param names of the person: the name to sign in with and the full name
   */
  public static Optional<String> refusal(String password, Collection<String> names) {
    int length = password.codePointCount(0, password.length());
    if (length < SHORTEST) {
      return Optional.of(
          "A password needs at least " + SHORTEST + " characters. A short sentence works well.");
    }
    if (length > LONGEST) {
      return Optional.of("A password has at most " + LONGEST + " characters.");
    }
    String folded = password.toLowerCase(Locale.ROOT);
    if (isBreached(folded)) {
      return Optional.of(
          "This password is on the list of those that are tried first, because many people use it or one like it. "
              + "Choose another; three or four words that have nothing to do with each other work well.");
    }
    if (isOneThingOverAndOver(folded)) {
      return Optional.of("This password is one thing over and over. Choose one that is harder to guess.");
    }
    if (withoutNames(folded, names).length() < LEFT_WITHOUT_NAMES) {
      return Optional.of("This password is mostly your own name or one that everybody here knows. Choose another.");
    }
    return Optional.empty();
  }

  private static boolean isBreached(String folded) {
    BreachedList list = BreachedList.shipped();
    String bare = folded.replaceAll("^[^\\p{L}]+|[^\\p{L}]+$", "");
    return list.contains(folded) || bare.length() >= 4 && list.contains(bare);
  }

  private static boolean isOneThingOverAndOver(String folded) {
    for (int unit = 1; unit <= folded.length() / 2; unit++) {
      String start = folded.substring(0, unit);
      if (start.repeat(folded.length() / unit + 1).startsWith(folded)) {
        return true;
      }
    }
    return isARun(folded);
  }

  /** Whether each character follows the one before it, as in 1234 or dcba. */
  private static boolean isARun(String folded) {
    int step = folded.charAt(1) - folded.charAt(0);
    boolean even = Math.abs(step) <= 1;
    for (int i = 2; even && i < folded.length(); i++) {
      int next = folded.charAt(i) - folded.charAt(i - 1);
      // after 9 comes 0, as on the keyboard
      even = next == step || next == step - 10 * Integer.signum(step) && Character.isDigit(folded.charAt(i));
    }
    return even;
  }

  private static String withoutNames(String folded, Collection<String> names) {
    List<String> known =
        Stream.concat(
                EVERYBODY_KNOWS.stream(),
                names.stream().flatMap(n -> Stream.concat(Stream.of(n), Stream.of(n.split("[^\\p{L}\\p{N}]+")))))
            .map(name -> name.toLowerCase(Locale.ROOT))
            .filter(name -> name.length() >= 3)
            .sorted((a, b) -> b.length() - a.length())
            .toList();
    String left = folded;
    for (String name : known) {
      left = left.replace(name, "");
    }
    return left.replaceAll("[^\\p{L}\\p{N}]", "");
  }
}

package ferrule.competency;

import java.util.List;

/** Small numbers in words, as a sentence says them. */
final class Count {

  private static final List<String> WORDS =
      List.of("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve");
  private static final List<String> ORDINALS =
      List.of("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth");

  private Count() {}

  /** Such as "two", and 13 and above in digits. */
  static String word(int n) {
    return n < WORDS.size() ? WORDS.get(n) : Integer.toString(n);
  }

  /** Such as "twice". */
  static String times(int n) {
    return switch (n) {
      case 1 -> "once";
      case 2 -> "twice";
      default -> word(n) + " times";
    };
  }

  /** Such as "second"; above ten "further". */
  static String ordinal(int n) {
    return n < ORDINALS.size() ? ORDINALS.get(n) : "further";
  }
}

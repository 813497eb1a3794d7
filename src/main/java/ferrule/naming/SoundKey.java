package ferrule.naming;

/**
 * How an English word of the shop sounds, roughly: words that are commonly written for one another by ear have the same
 * key, such as "ferrule" and "ferrel", "knuckle" and "nuckel", "brace" and "braise".
 *
 * <p>A short rule list in the manner of the Metaphone family: silent first letters go, letters with one sound become one
 * letter, doubled letters and all vowels after the first letter go. Rules from memory, chosen for this vocabulary.
 */
final class SoundKey {

  private SoundKey() {}

  /** The key of a lower-case word; empty for a word without Latin letters. */
  static String of(String word) {
    String w = word;
    if (w.startsWith("kn") || w.startsWith("gn") || w.startsWith("wr") || w.startsWith("ps")) {
      w = w.substring(1);
    }
    StringBuilder key = new StringBuilder(w.length());
    for (int i = 0; i < w.length(); i++) {
      char sound = soundAt(w, i);
      boolean vowel = sound == 'a';
      boolean repeated = !key.isEmpty() && key.charAt(key.length() - 1) == sound;
      if (sound != 0 && !repeated && (!vowel || i == 0)) {
        key.append(sound);
      }
    }
    return key.toString();
  }

  private static char soundAt(String w, int i) {
    char c = w.charAt(i);
    char after = i + 1 < w.length() ? w.charAt(i + 1) : ' ';
    return switch (c) {
      case 'a', 'e', 'i', 'o', 'u', 'y' -> 'a';
      case 'c' -> after == 'e' || after == 'i' || after == 'y' ? 's' : after == 'h' ? 'x' : 'k';
      case 'g' -> after == 'h' ? 0 : after == 'e' ? 'j' : 'g';
      case 'd' -> after == 'g' ? 0 : 'd';
      case 'h' -> 0;
      case 'p' -> after == 'h' ? 'f' : 'p';
      case 'q', 'k', 'x' -> 'k';
      case 'z' -> 's';
      case 'w' -> i == 0 ? 'w' : 0;
      default -> c >= 'a' && c <= 'z' ? c : 0;
    };
  }
}

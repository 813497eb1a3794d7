package ferrule.naming;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * The words of a phrase in normal form: compatibility characters and case folded (Unicode NFKC and case folding, accents
 * off), punctuation and hyphens as gaps, possessive endings off, and a number parted from the word that it is typed
 * against. Example: {@code Wording.of("3rd-Valve's  TOP cap").text()} is {@code "3rd valve top cap"}.
 *
 * <p>The normal form of a normal form is itself, and making one takes time linear in the length of the phrase.
 *
 * @param words the words in the order of the phrase, each without gaps
 */
record Wording(List<String> words) {

  private static final int LAST_ASCII = 127;
  private static final String PREFIX = "non";

  Wording {
    words = List.copyOf(words);
  }

  /** The normal form of any text; of a text without letters or digits, no words. */
  static Wording of(String typed) {
    String folded = fold(typed);
    List<String> words = new ArrayList<>(8);
    int at = 0;
    while (at < folded.length()) {
      int start = at;
      while (at < folded.length() && (isWordAt(folded, at) || isApostrophe(folded.charAt(at)))) {
        at += Character.charCount(folded.codePointAt(at));
      }
      if (at > start) {
        addParts(withoutApostrophes(folded.substring(start, at)), words);
      } else {
        at += Character.charCount(folded.codePointAt(at));
      }
    }
    return new Wording(withPrefixes(words));
  }

  /** "Non-adjustable" is one word, not the adjustable of something denied. */
  private static List<String> withPrefixes(List<String> words) {
    if (!words.contains(PREFIX)) {
      return words;
    }
    List<String> whole = new ArrayList<>(words.size());
    for (int i = 0; i < words.size(); i++) {
      boolean prefix = words.get(i).equals(PREFIX) && i + 1 < words.size();
      whole.add(prefix ? PREFIX + words.get(++i) : words.get(i));
    }
    return whole;
  }

  /** The words with one space between them. */
  String text() {
    return String.join(" ", words);
  }

  private static boolean isWordAt(String text, int at) {
    char c = text.charAt(at);
    if (c <= LAST_ASCII) {
      return c >= 'a' && c <= 'z' || c >= '0' && c <= '9';
    }
    return Character.isLetterOrDigit(text.codePointAt(at));
  }

  private static boolean isApostrophe(char c) {
    return c == '\'' || c == '\u2019' || c == '\u2018' || c == '\u02bc' || c == '`';
  }

  private static String withoutApostrophes(String run) {
    int last = -1;
    for (int i = run.length() - 1; i >= 0 && last < 0; i--) {
      if (isApostrophe(run.charAt(i))) {
        last = i;
      }
    }
    if (last < 0) {
      return run;
    }
    String kept = run.substring(last + 1).equals("s") ? run.substring(0, last) : run;
    StringBuilder letters = new StringBuilder(kept.length());
    for (int i = 0; i < kept.length(); i++) {
      if (!isApostrophe(kept.charAt(i))) {
        letters.append(kept.charAt(i));
      }
    }
    return letters.toString();
  }

  /** Parts "3rdslide" into "3rd" and "slide", "valve1" into "valve" and "1", and leaves "1st" whole. */
  private static void addParts(String run, List<String> words) {
    int start = 0;
    for (int at = 1; at < run.length(); at++) {
      boolean border = isDigit(run.charAt(at)) != isDigit(run.charAt(at - 1));
      if (border && isDigit(run.charAt(at - 1))) {
        int end = at + ordinalEnding(run, start, at);
        if (end > at) {
          words.add(run.substring(start, end));
          start = end;
          at = end;
          continue;
        }
      }
      if (border) {
        words.add(run.substring(start, at));
        start = at;
      }
    }
    if (start < run.length()) {
      words.add(run.substring(start));
    }
  }

  /** The length of the ordinal ending that follows the digits from {@code start} to {@code at}, or 0. */
  private static int ordinalEnding(String run, int start, int at) {
    String letters = run.substring(at, Math.min(at + 2, run.length()));
    boolean teen = at - start > 1 && run.charAt(at - 2) == '1';
    String ending =
        switch (teen ? '0' : run.charAt(at - 1)) {
          case '1' -> "st";
          case '2' -> "nd";
          case '3' -> "rd";
          default -> "th";
        };
    if (letters.equals(ending)) {
      return 2;
    }
    boolean shortForm = at + 1 == run.length() && run.charAt(at) == 'd';
    return shortForm && (ending.equals("nd") || ending.equals("rd")) ? 1 : 0;
  }

  private static boolean isDigit(char c) {
    return c >= '0' && c <= '9';
  }

  private static String fold(String typed) {
    if (isPlain(typed)) {
      return typed.toLowerCase(Locale.ROOT);
    }
    String folded = foldOnce(typed);
    String again = foldOnce(folded);
    while (!again.equals(folded)) {
      folded = again;
      again = foldOnce(folded);
    }
    return folded;
  }

  private static boolean isPlain(String text) {
    for (int i = 0; i < text.length(); i++) {
      if (text.charAt(i) > LAST_ASCII) {
        return false;
      }
    }
    return true;
  }

  private static String foldOnce(String text) {
    String apart = Normalizer.normalize(text, Normalizer.Form.NFKD);
    StringBuilder bare = new StringBuilder(apart.length());
    apart.codePoints().filter(c -> Character.getType(c) != Character.NON_SPACING_MARK).forEach(bare::appendCodePoint);
    // Through capitals, so that letters with one capital between them (sharp s, the two sigmas) fold together.
    return bare.toString().toUpperCase(Locale.ROOT).toLowerCase(Locale.ROOT).replace('\u03c2', '\u03c3');
  }
}

package ferrule.naming;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Misspellings by one edit: a letter left out, put in, exchanged, or swapped with its neighbour. */
final class Slips {

  private static final int LETTERS = 26;

  private Slips() {}

  /** Every word of lower-case letters that is one edit from this one. */
  static Set<String> of(String word) {
    Set<String> slips = new LinkedHashSet<>();
    for (int i = 0; i <= word.length(); i++) {
      String before = word.substring(0, i);
      String after = word.substring(i);
      for (int letter = 0; letter < LETTERS; letter++) {
        char c = (char) ('a' + letter);
        slips.add(before + c + after);
        if (!after.isEmpty()) {
          slips.add(before + c + after.substring(1));
        }
      }
      if (!after.isEmpty()) {
        slips.add(before + after.substring(1));
      }
      if (after.length() > 1) {
        slips.add(before + after.charAt(1) + after.charAt(0) + after.substring(2));
      }
    }
    slips.remove(word);
    return slips;
  }

  /** The phrase with each of its words of at least so many letters misspelled in each way, one word at a time. */
  static List<String> inPhrase(String phrase, int letters) {
    List<String> all = new ArrayList<>();
    String[] words = phrase.split(" ");
    for (int i = 0; i < words.length; i++) {
      if (words[i].length() >= letters && words[i].chars().allMatch(c -> c >= 'a' && c <= 'z')) {
        for (String slip : of(words[i])) {
          String[] changed = words.clone();
          changed[i] = slip;
          all.add(String.join(" ", changed));
        }
      }
    }
    return all;
  }
}

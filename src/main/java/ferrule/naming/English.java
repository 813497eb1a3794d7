package ferrule.naming;

import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What the reader knows of English around the names: number words, words that carry no meaning in an answer, words that
 * turn an answer into something else, spellings of two countries, and the short forms of the shop (common practice, no
 * source).
 */
final class English {

  /** Number forms to the ordinal that stands for them. */
  static final Map<String, String> ORDINALS =
      Map.ofEntries(
          Map.entry("1", "first"), Map.entry("1st", "first"), Map.entry("one", "first"), Map.entry("i", "first"),
          Map.entry("2", "second"), Map.entry("2nd", "second"), Map.entry("2d", "second"), Map.entry("two", "second"),
          Map.entry("ii", "second"), Map.entry("3", "third"), Map.entry("3rd", "third"), Map.entry("3d", "third"),
          Map.entry("three", "third"), Map.entry("iii", "third"), Map.entry("4", "fourth"), Map.entry("4th", "fourth"),
          Map.entry("four", "fourth"), Map.entry("iv", "fourth"));

  /** Words before a number that only say that a number follows. */
  static final Set<String> NUMBER_MARKS = Set.of("no", "nr", "num", "number", "nbr", "numero", "v");

  /** Words that bind a phrase together; never part of a name. */
  static final Set<String> BINDING =
      Set.of(
          "the", "a", "an", "of", "on", "in", "at", "to", "for", "from", "with", "and", "by", "into", "onto", "its",
          "it", "is", "between", "or", "s", "w", "amp", "n", "that", "which");

  /** Words that people put around an answer; ignored unless the glossary uses the word in a name. */
  static final Set<String> FILLER =
      Set.of(
          "this", "thats", "these", "those", "would", "be", "called", "named", "are", "was", "think", "guess",
          "believe", "mean", "maybe", "perhaps", "probably", "possibly", "um", "uh", "er", "erm", "hmm", "ok", "okay",
          "im", "am", "my", "your", "answer", "name", "just", "like", "should", "must", "looks", "pretty", "sure",
          "connecting", "connects", "connect", "joining", "joins", "join", "linking", "there", "here", "s", "re");

  /** Words that stand in for a name that the writer does not have. */
  static final Set<String> PLACEHOLDER =
      Set.of(
          "thing", "things", "thingy", "thingie", "thingamajig", "stuff", "something", "whatsit", "gizmo", "bit",
          "piece", "part", "item", "object", "doohickey");

  /** Words that tie a placeholder to a description. */
  static final Set<String> DESCRIBING =
      Set.of("of", "on", "in", "at", "that", "which", "for", "from", "with", "to", "by", "between", "under", "over");

  /** Words that say what the answer is not, or that there is none. */
  static final Set<String> DENYING =
      Set.of(
          "not", "isnt", "non", "no", "without", "except", "never", "neither", "nor", "dont", "idk", "dunno", "none",
          "cant", "forgot");

  /** What follows "I" when it is the writer and not a number. */
  static final Set<String> AFTER_THE_WRITER =
      Set.of("think", "guess", "believe", "mean", "say", "said", "would", "dont", "am", "d", "m", "cant", "forgot");

  /** Two spellings of one word. */
  static final Map<String, String> OTHER_SPELLING =
      Map.ofEntries(
          Map.entry("centre", "center"), Map.entry("center", "centre"), Map.entry("grey", "gray"),
          Map.entry("gray", "grey"), Map.entry("mould", "mold"), Map.entry("mold", "mould"),
          Map.entry("gauge", "gage"), Map.entry("gage", "gauge"), Map.entry("colour", "color"),
          Map.entry("color", "colour"), Map.entry("aluminium", "aluminum"), Map.entry("aluminum", "aluminium"),
          Map.entry("calibre", "caliber"), Map.entry("caliber", "calibre"), Map.entry("fibre", "fiber"),
          Map.entry("fiber", "fibre"));

  /** Short forms, each read only in a glossary that knows all the words that it stands for. */
  static final Map<String, List<String>> SHORT_FORMS =
      Map.ofEntries(
          Map.entry("assy", List.of("assembly")), Map.entry("asm", List.of("assembly")),
          Map.entry("assem", List.of("assembly")), Map.entry("lp", List.of("leadpipe")),
          Map.entry("mts", List.of("main", "tuning", "slide")), Map.entry("ts", List.of("tuning", "slide")),
          Map.entry("wk", List.of("water", "key")), Map.entry("btm", List.of("bottom")),
          Map.entry("bot", List.of("bottom")), Map.entry("upr", List.of("upper")), Map.entry("lwr", List.of("lower")),
          Map.entry("inr", List.of("inner")), Map.entry("otr", List.of("outer")), Map.entry("mpc", List.of("mouthpiece")),
          Map.entry("mp", List.of("mouthpiece")), Map.entry("adj", List.of("adjustable")), Map.entry("fst", List.of("first")), Map.entry("scnd", List.of("second")),
          Map.entry("thrd", List.of("third")));

  private English() {}

  /** The plural of a noun by rule. */
  static String plural(String noun) {
    if (noun.endsWith("s") || noun.endsWith("x") || noun.endsWith("ch") || noun.endsWith("sh")) {
      return noun + "es";
    }
    boolean consonantBeforeY = noun.length() > 2 && noun.endsWith("y") && "aeiou".indexOf(noun.charAt(noun.length() - 2)) < 0;
    return consonantBeforeY ? noun.substring(0, noun.length() - 1) + "ies" : noun + "s";
  }

  /** The word without the vowels after its first letter, doubled letters once: "valve" to "vlv". */
  static String consonants(String word) {
    StringBuilder kept = new StringBuilder(word.length());
    for (int i = 0; i < word.length(); i++) {
      char c = word.charAt(i);
      boolean vowel = "aeiou".indexOf(c) >= 0;
      boolean repeated = i > 0 && c == word.charAt(i - 1);
      if (i == 0 || !vowel && !repeated) {
        kept.append(c);
      }
    }
    return kept.toString();
  }
}

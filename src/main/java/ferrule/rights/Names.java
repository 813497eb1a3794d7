package ferrule.rights;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * How a person may be named in a text: by the full name, also with the last word first, and by the sign-in name, in
 * whatever case. A name that is one plain word of letters is not looked for, because it may be an ordinary word of the
 * language or of the trade, or anybody's first name.
 */
final class Names {

  private static final String APART = "[^\\p{L}]{1,5}";

  // for each way of being named, words that must all stand in a text
  private final List<List<String>> words = new ArrayList<>();
  private final List<Pattern> patterns = new ArrayList<>();

  /** The names of somebody. */
  Names(String fullName, String signInName) {
    List<String> parts = Stream.of(fullName.split("\\P{L}+")).filter(part -> !part.isEmpty()).toList();
    if (parts.size() > 1) {
      List<String> lastFirst = new ArrayList<>(parts);
      Collections.rotate(lastFirst, 1);
      words.add(parts);
      Stream.of(parts, lastFirst).map(Names::inOrder).forEach(patterns::add);
    }
    if (!signInName.matches("\\p{L}+")) {
      words.add(List.of(signInName));
      patterns.add(whole(Pattern.quote(signInName)));
    }
  }

  private static Pattern inOrder(List<String> parts) {
    return whole(parts.stream().map(Pattern::quote).collect(Collectors.joining(APART)));
  }

  private static Pattern whole(String expression) {
    return Pattern.compile(
        "(?<![\\p{L}\\p{N}])" + expression + "(?![\\p{L}\\p{N}])", Pattern.CASE_INSENSITIVE | Pattern.UNICODE_CASE);
  }

  /** For each way of being named, words that all stand in a text in which it stands. */
  List<List<String>> words() {
    return words;
  }

  /** The text with this in place of each name. */
  String replace(String text, String pseudonym) {
    String replaced = text;
    for (Pattern pattern : patterns) {
      replaced = pattern.matcher(replaced).replaceAll(pseudonym);
    }
    return replaced;
  }
}

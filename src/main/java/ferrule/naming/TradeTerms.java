package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.Glossary;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The good trade terms of a part beside its preferred one: those that are written with it in the glossary, and its terms
 * with the noun of its kind in another of the kind's terms. Example: "third slide bow" for the third slide crook, although
 * only the kind "crook" is said to be called a bow.
 */
public final class TradeTerms {

  private TradeTerms() {}

  /** The terms, each once, those that are written with the part first; the preferred term is not among them. */
  public static List<String> of(Glossary glossary, Concept part) {
    Set<String> terms = new LinkedHashSet<>(part.termsIn(TermRole.ALTERNATIVE));
    for (Concept kind : glossary.kindsOf(part.id())) {
      List<String> nouns = goodTerms(kind);
      Optional<String> noun =
          nouns.stream().filter(n -> part.term().endsWith(" " + n)).max(Comparator.comparingInt(String::length));
      if (noun.isPresent()) {
        String stem = part.term().substring(0, part.term().length() - noun.get().length() - 1);
        nouns.stream().filter(n -> !repeats(stem, n)).forEach(other -> terms.add(stem + " " + other));
        break;
      }
    }
    terms.removeIf(term -> letters(term).equals(letters(part.term())));
    return List.copyOf(terms);
  }

  /** "Lead pipe" and "lead-pipe" are ways of writing "leadpipe" and no other terms. */
  private static String letters(String term) {
    return String.join("", Wording.of(term).words());
  }

  private static List<String> goodTerms(Concept kind) {
    List<String> terms = new ArrayList<>(kind.termsIn(TermRole.PREFERRED));
    terms.addAll(kind.termsIn(TermRole.ALTERNATIVE));
    return terms;
  }

  private static boolean repeats(String stem, String noun) {
    Set<String> words = new HashSet<>(List.of(stem.split(" ")));
    return List.of(noun.split(" ")).stream().anyMatch(words::contains);
  }
}

package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.Glossary;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The misspelled words of a glossary's hidden terms, each with the word that it is meant for: the one at its place in the
 * concept's own term that looks most like the misspelled one. So "ferrel", noted once with the ferrule, is understood in the
 * name of every ferrule.
 */
final class KnownSlips {

  private static final int FARTHEST = 4;

  private KnownSlips() {}

  /** From each misspelled word to the word that it is meant for, in normal form. */
  static Map<String, String> in(Glossary glossary) {
    Map<String, String> slips = new HashMap<>();
    for (Concept concept : glossary.concepts()) {
      for (String wrong : concept.termsIn(TermRole.MISSPELLING)) {
        add(Wording.of(wrong).words(), concept, slips);
      }
    }
    return slips;
  }

  private static void add(List<String> wrong, Concept concept, Map<String, String> slips) {
    Optional<List<String>> meant =
        concept.terms().stream()
            .filter(t -> t.role() != TermRole.MISSPELLING)
            .map(Term::text)
            .map(text -> Wording.of(text).words())
            .filter(words -> words.size() == wrong.size())
            .min(Comparator.comparingInt(words -> distance(words, wrong)));
    for (int i = 0; meant.isPresent() && i < wrong.size(); i++) {
      if (!wrong.get(i).equals(meant.get().get(i))) {
        slips.put(wrong.get(i), meant.get().get(i));
      }
    }
  }

  private static int distance(List<String> words, List<String> wrong) {
    int sum = 0;
    for (int i = 0; i < words.size(); i++) {
      sum += DamerauLevenshtein.within(words.get(i), wrong.get(i), FARTHEST);
    }
    return sum;
  }
}

package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.Glossary;
import ferrule.glossary.TermRole;
import java.util.LinkedHashSet;
import java.util.List;
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
      String noun = " " + kind.term();
      if (part.term().endsWith(noun)) {
        String stem = part.term().substring(0, part.term().length() - noun.length());
        kind.termsIn(TermRole.ALTERNATIVE).forEach(other -> terms.add(stem + " " + other));
        break;
      }
    }
    terms.remove(part.term());
    return List.copyOf(terms);
  }
}

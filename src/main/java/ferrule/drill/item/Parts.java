package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.naming.TermReader;
import ferrule.naming.Verdict;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The parts that can be asked for, as the writers see them.
 *
 * @param glossary where they are named
 * @param reader of the names
 * @param askable those that a drawing shows well enough, in the order of the glossary
 */
public record Parts(Glossary glossary, TermReader reader, Map<ConceptId, Seen> askable) {

  /**
   * How a drawing shows a part.
   *
   * @param home the assembly under which the part is picked
   * @param onWhole whether the drawing is one of the whole instrument
   * @param area the visible area in px² of a drawing 1,000 px wide
   * @param among the parts that the same drawing shows
   * @param variants the variants of the instrument that is drawn
   */
  public record Seen(ConceptId home, boolean onWhole, double area, Set<ConceptId> among, Set<String> variants) {

    /** Copies the sets. */
    public Seen {
      among = Set.copyOf(among);
      variants = Set.copyOf(variants);
    }
  }

  /** Copies the map, keeping its order. */
  public Parts {
    askable = Collections.unmodifiableMap(new LinkedHashMap<>(askable));
  }

  String term(ConceptId part) {
    return glossary.get(part).term();
  }

  Optional<Seen> seen(ConceptId part) {
    return Optional.ofNullable(askable.get(part));
  }

  /** The parts that can be asked for, with their concepts, in the order of the glossary. */
  List<Concept> concepts() {
    return askable.keySet().stream().map(glossary::get).toList();
  }

  /** Whether one is the other, a piece of it or a whole that it belongs to. */
  boolean isOneWithin(ConceptId one, ConceptId other) {
    return one.equals(other) || belongs(one, other) || belongs(other, one);
  }

  /** Whether a part belongs to a whole at any depth. */
  boolean belongs(ConceptId part, ConceptId whole) {
    return glossary.wholesOf(part).stream().anyMatch(w -> w.id().equals(whole));
  }

  /**
   * Whether a phrase would be taken as naming a part, even too vaguely or in everyday words: then it is no distractor.
   *
   * @param context what the drawing shows; empty for the whole instrument
   */
  boolean couldName(ConceptId part, String phrase, Collection<ConceptId> context) {
    if (!reader.reads(part)) {
      return false;
    }
    Verdict verdict = reader.judge(part, phrase, context);
    return verdict.namesThePart() || verdict instanceof Verdict.TooVague;
  }
}

package ferrule.glossary;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * One thing that the trade has a name for: a kind, an assembly, a part or a region of a part.
 *
 * <p>Example: {@code third-slide-upper-inner-tube}, preferred term "third slide upper inner tube", broader
 * {@code inner-slide-tube}, part of {@code third-slide-assembly}, qualifiers {@code valve=third, tier=upper}.
 *
 * @param id stable id
 * @param level what sort of thing it is
 * @param terms its labels, the preferred one first and only there
 * @param definition what it is and does, in our own words
 * @param broader the kind that it belongs to; the kind's terms are its head nouns
 * @param partOf the assembly or part that it belongs to as a piece
 * @param connects the parts that it is joined to or leads into
 * @param carries the parts that are mounted on it or held by it
 * @param joins for a brace and the like, the things it is named by; order does not matter; empty otherwise
 * @param qualifiers facet id to value id, in the order of the preferred term
 * @param variants the ids of the variants in which it occurs; of an axis that is not mentioned, in all
 * @param drawn whether it is of the drawn kind: a shape of its own in some drawing
 */
public record Concept(
    ConceptId id,
    Level level,
    List<Term> terms,
    String definition,
    Optional<ConceptId> broader,
    Optional<ConceptId> partOf,
    List<ConceptId> connects,
    List<ConceptId> carries,
    List<ConceptId> joins,
    Map<String, String> qualifiers,
    Set<String> variants,
    boolean drawn) {

  /** Copies the collections, keeping their order, and checks the preferred term. */
  public Concept {
    terms = List.copyOf(terms);
    connects = List.copyOf(connects);
    carries = List.copyOf(carries);
    joins = List.copyOf(joins);
    qualifiers = Collections.unmodifiableMap(new LinkedHashMap<>(qualifiers));
    variants = Set.copyOf(variants);
    long preferred = terms.stream().filter(t -> t.role() == TermRole.PREFERRED).count();
    if (preferred != 1 || terms.get(0).role() != TermRole.PREFERRED) {
      throw new IllegalArgumentException("concept " + id + " needs exactly one preferred term, first in its list");
    }
  }

  /** The preferred term. */
  public String term() {
    return terms.get(0).text();
  }

  /** The texts of its labels in this role, in the order of the file. */
  public List<String> termsIn(TermRole role) {
    return terms.stream().filter(t -> t.role() == role).map(Term::text).toList();
  }

  /** Whether it can be the answer to "what is this called": anything but a kind. */
  public boolean isNameable() {
    return level != Level.KIND;
  }
}

package ferrule.atlas;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.Sense;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * What the glossary says of one part, assembly or kind, gathered from all sides: its names and what each of them is
 * good for, what it belongs to, what it meets, and what it is easily taken for. Misspellings are never among the names.
 *
 * @param concept the part, assembly or kind itself
 * @param tradeTerms its other terms that are good trade usage
 * @param counterTerms what customers call it: understood at the counter, not to be written on a ticket
 * @param wholes what it belongs to, nearest first
 * @param kinds what sort of thing it is, nearest first
 * @param pieces what belongs directly to it
 * @param ofKind for a kind, the parts of it at any depth
 * @param connects what it is joined to or leads into, whichever of the two the glossary names first
 * @param carries what is mounted on it
 * @param carriedBy what it is mounted on
 * @param joins for a brace and the like, what it joins
 * @param joinedBy the braces that hold it
 * @param variants the variants in which it occurs; empty if in all
 * @param lookAlikes what it is easily taken for
 * @param senses for each of its words with more than one meaning, all the meanings
 */
public record Entry(
    Concept concept,
    List<String> tradeTerms,
    List<String> counterTerms,
    List<Concept> wholes,
    List<Concept> kinds,
    List<Concept> pieces,
    List<Concept> ofKind,
    List<Concept> connects,
    List<Concept> carries,
    List<Concept> carriedBy,
    List<Concept> joins,
    List<Concept> joinedBy,
    List<Variant> variants,
    List<LookAlike> lookAlikes,
    List<AmbiguousWord> senses) {

  /**
   * A word that means more than one thing.
   *
   * @param word the word
   * @param here what it means when it is said of this part
   * @param elsewhere what else it can mean
   */
  public record AmbiguousWord(String word, String here, List<String> elsewhere) {}

  /** Gathers what a glossary says of one of its concepts. */
  public static Entry of(Glossary glossary, Concept concept) {
    return new Entry(
        concept,
        concept.termsIn(TermRole.ALTERNATIVE),
        concept.termsIn(TermRole.COLLOQUIAL),
        glossary.wholesOf(concept.id()),
        glossary.kindsOf(concept.id()),
        glossary.piecesOf(concept.id()),
        ofKind(glossary, concept),
        both(glossary, concept, Concept::connects),
        resolve(glossary, concept.carries()),
        pointingAt(glossary, concept, Concept::carries),
        resolve(glossary, concept.joins()),
        pointingAt(glossary, concept, Concept::joins),
        glossary.variants().stream().filter(v -> concept.variants().contains(v.id())).toList(),
        LookAlike.of(glossary, concept),
        senses(glossary, concept));
  }

  private static List<Concept> ofKind(Glossary glossary, Concept kind) {
    return kind.level() != Level.KIND
        ? List.of()
        : glossary.nameable().stream().filter(c -> glossary.kindsOf(c.id()).contains(kind)).toList();
  }

  private static List<Concept> both(Glossary glossary, Concept concept, Function<Concept, List<ConceptId>> link) {
    Set<Concept> found = new LinkedHashSet<>(pointingAt(glossary, concept, link));
    found.addAll(resolve(glossary, link.apply(concept)));
    return List.copyOf(found);
  }

  private static List<Concept> pointingAt(
      Glossary glossary, Concept concept, Function<Concept, List<ConceptId>> link) {
    return glossary.concepts().stream().filter(c -> link.apply(c).contains(concept.id())).toList();
  }

  private static List<Concept> resolve(Glossary glossary, List<ConceptId> ids) {
    return ids.stream().map(glossary::get).toList();
  }

  private static List<AmbiguousWord> senses(Glossary glossary, Concept concept) {
    List<AmbiguousWord> words = new ArrayList<>();
    Stream.concat(Stream.of(concept), glossary.kindsOf(concept.id()).stream())
        .flatMap(c -> c.terms().stream())
        .map(Term::sense)
        .flatMap(Optional::stream)
        .distinct()
        .forEach(id -> glossary.senses().stream().filter(s -> s.id().equals(id)).findFirst()
            .ifPresent(sense -> words.add(ambiguous(glossary, sense))));
    return words;
  }

  private static AmbiguousWord ambiguous(Glossary glossary, Sense sense) {
    List<String> others =
        glossary.senses().stream()
            .filter(s -> s.word().equals(sense.word()) && !s.id().equals(sense.id()))
            .map(Sense::gloss)
            .toList();
    return new AmbiguousWord(sense.word(), sense.gloss(), others);
  }
}

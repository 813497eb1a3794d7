package ferrule.drill;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import ferrule.naming.Reading;
import ferrule.naming.TermReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The names of a glossary together with those that rulings have added to it.
 *
 * <p>A ruling that teaches a phrase adds it to its part as a term of its own; the phrase then reads as that part and, by
 * the check for conflicts, as nothing else.
 */
final class RuledNames {

  private final Glossary glossary;
  private final TermReader reader;

  private RuledNames(Glossary glossary) {
    this.glossary = glossary;
    this.reader = TermReader.of(glossary);
  }

  /** The names of a glossary with those that these rulings teach; of other rulings nothing is taken. */
  static RuledNames of(Glossary glossary, List<RuledAnswer> rulings) {
    List<Concept> concepts =
        glossary.concepts().stream()
            .map(c -> withTerms(c, rulings.stream().filter(r -> r.decision().teaches() && r.part().equals(c.id())).toList()))
            .toList();
    return new RuledNames(
        new Glossary(
            glossary.id(), glossary.title(), glossary.variants(), glossary.facets(), glossary.senses(), concepts));
  }

  private static Concept withTerms(Concept c, List<RuledAnswer> rulings) {
    List<Term> terms = new ArrayList<>(c.terms());
    for (RuledAnswer r : rulings) {
      // a curriculum that has taken the ruling up has the term already
      if (terms.stream().noneMatch(t -> TermReader.normalForm(t.text()).equals(r.phrase()))) {
        terms.add(Term.of(r.phrase(), role(r.decision())));
      }
    }
    return new Concept(
        c.id(), c.level(), terms, c.definition(), c.broader(), c.partOf(), c.connects(), c.carries(), c.joins(),
        c.qualifiers(), c.variants(), c.drawn());
  }

  /** The role of the term that a teaching decision makes. */
  static TermRole role(Decision decision) {
    return switch (decision) {
      case TERM -> TermRole.ALTERNATIVE;
      case COLLOQUIAL -> TermRole.COLLOQUIAL;
      case MISSPELLING -> TermRole.MISSPELLING;
      case ONCE, NOT_ACCEPTED -> throw new IllegalArgumentException("no term comes of a ruling " + decision.word());
    };
  }

  /** The reader of these names. */
  TermReader reader() {
    return reader;
  }

  /**
   * What would make this phrase ambiguous if it became a name of this part: what it names already, or what would be read
   * otherwise because of it.
   *
   * @param taught these names with the phrase added
   * @return the conflict in a sentence for the instructor; empty if there is none
   */
  Optional<String> conflict(ConceptId part, String phrase, RuledNames taught) {
    List<Concept> before = reader.read(phrase).parts();
    if (before.stream().anyMatch(c -> !c.id().equals(part))) {
      return Optional.of(
          "“" + phrase + "” already fits " + list(before) + ". As a name of the " + glossary.get(part).term()
              + " it would be ambiguous. Nothing was changed.");
    }
    Reading after = taught.reader.read(phrase);
    if (after.parts().size() != 1 || !after.parts().get(0).id().equals(part)) {
      return Optional.of(
          "“" + phrase + "” would still not be read as the " + glossary.get(part).term()
              + (after.parts().isEmpty() ? "" : " alone but as " + list(after.parts()))
              + ". Accept it once, or not. Nothing was changed.");
    }
    return glossary.nameable().stream()
        .filter(c -> !picksOut(taught, c) && picksOut(this, c))
        .findFirst()
        .map(
            c ->
                "With “" + phrase + "” as a name of the " + glossary.get(part).term() + ", “" + c.term()
                    + "” would not be read as that part alone any more. Nothing was changed.");
  }

  private static boolean picksOut(RuledNames names, Concept c) {
    List<Concept> read = names.reader.read(c.term()).parts();
    return read.size() == 1 && read.get(0).id().equals(c.id());
  }

  private static String list(List<Concept> parts) {
    String first = parts.stream().limit(3).map(c -> "the " + c.term()).collect(Collectors.joining(", "));
    return parts.size() > 3 ? first + " and " + (parts.size() - 3) + " more" : first;
  }
}

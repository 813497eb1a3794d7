package ferrule.drill;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.TermRole;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** The words for a part on a page, also for one that an earlier edition had and this one does not. */
record PartNames(Glossary glossary) {

  /** The preferred term. */
  String term(ConceptId part) {
    return glossary.find(part).map(Concept::term).orElseGet(() -> part.value().replace('-', ' '));
  }

  /** The preferred term at the start of a line. */
  String heading(ConceptId part) {
    return capital(term(part));
  }

  /** What an assembly is called where parts are picked by assembly. */
  String scope(ConceptId assembly) {
    boolean whole = glossary.find(assembly).filter(a -> a.partOf().isEmpty()).isPresent();
    return whole ? "what joins the assemblies" : term(assembly);
  }

  /** Its other trade terms, joined; empty if it has none. */
  String others(ConceptId part) {
    return glossary.find(part).stream()
        .flatMap(p -> p.termsIn(TermRole.ALTERNATIVE).stream())
        .collect(Collectors.joining(", "));
  }

  /** The definition; empty for a part that this edition does not have. */
  String definition(ConceptId part) {
    return glossary.find(part).map(Concept::definition).orElse("");
  }

  /**
   * The assembly under which an instructor picks a part: the largest one that it belongs to short of the whole
   * instrument, or the instrument itself for what belongs to no other assembly.
   */
  Optional<ConceptId> home(ConceptId part) {
    List<ConceptId> assemblies =
        glossary.find(part).stream()
            .flatMap(p -> glossary.wholesOf(p.id()).stream())
            .filter(whole -> whole.level() == Level.ASSEMBLY)
            .map(Concept::id)
            .toList();
    int last = assemblies.size() - 1;
    return last < 0 ? Optional.empty() : Optional.of(assemblies.get(Math.max(0, last - 1)));
  }

  static String capital(String words) {
    return words.substring(0, 1).toUpperCase(java.util.Locale.ROOT) + words.substring(1);
  }
}

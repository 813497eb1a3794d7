package ferrule.drill;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.TermRole;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** The words for a part on a page, also for one that an earlier edition had and this one does not. */
public record PartNames(Glossary glossary) {

  /** The preferred term. */
  public String term(ConceptId part) {
    return glossary.find(part).map(Concept::term).orElseGet(() -> part.value().replace('-', ' '));
  }

  /** The preferred term at the start of a line. */
  public String heading(ConceptId part) {
    return capital(term(part));
  }

  /** What an assembly is called where parts are picked by assembly. */
  public String scope(ConceptId assembly) {
    boolean whole = glossary.find(assembly).filter(a -> a.partOf().isEmpty()).isPresent();
    return whole ? "what joins the assemblies" : term(assembly);
  }

  /** Whether a text holds one of a part's names. */
  public boolean isToldBy(ConceptId part, String text) {
    String words = text.toLowerCase(Locale.ROOT);
    return glossary.find(part).stream()
        .flatMap(p -> p.terms().stream())
        .anyMatch(t -> words.contains(t.text().toLowerCase(Locale.ROOT)));
  }

  /** What tells a thing from others alike, such as "first"; empty if nothing does. */
  String qualifiers(ConceptId part) {
    return glossary.get(part).qualifiers().entrySet().stream()
        .flatMap(q -> glossary.facet(q.getKey()).flatMap(f -> f.value(q.getValue())).stream())
        .map(Facet.Value::term)
        .collect(Collectors.joining(" "));
  }

  /** Its other trade terms, joined; empty if it has none. */
  public String others(ConceptId part) {
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
  public Optional<ConceptId> home(ConceptId part) {
    List<ConceptId> assemblies =
        glossary.find(part).stream()
            .flatMap(p -> glossary.wholesOf(p.id()).stream())
            .filter(whole -> whole.level() == Level.ASSEMBLY)
            .map(Concept::id)
            .toList();
    int last = assemblies.size() - 1;
    return last < 0 ? Optional.empty() : Optional.of(assemblies.get(Math.max(0, last - 1)));
  }

  public static String capital(String words) {
    return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
  }
}

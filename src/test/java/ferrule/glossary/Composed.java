package ferrule.glossary;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;

/** The names that a concept's qualifiers and kinds give, with the qualifiers in the order of the concept. */
final class Composed {

  private Composed() {}

  /** With every word that the facets have, each qualifier said or not. */
  static Set<String> namesOf(Glossary glossary, Concept concept) {
    return names(glossary, concept, value -> Stream.concat(Stream.of(value.term()), value.also().stream()).toList());
  }

  /** With the facets' preferred words only. */
  static Set<String> plainNamesOf(Glossary glossary, Concept concept) {
    return names(glossary, concept, value -> List.of(value.term()));
  }

  private static Set<String> names(Glossary glossary, Concept concept, Function<Facet.Value, List<String>> words) {
    Set<String> names = new LinkedHashSet<>();
    List<String> prefixes = prefixes(glossary, concept, words);
    for (Concept kind : glossary.kindsOf(concept.id())) {
      for (Term head : kind.terms()) {
        prefixes.forEach(prefix -> names.add(prefix + head.text()));
      }
    }
    return names;
  }

  private static List<String> prefixes(
      Glossary glossary, Concept concept, Function<Facet.Value, List<String>> words) {
    List<String> prefixes = List.of("");
    for (var qualifier : concept.qualifiers().entrySet()) {
      Facet.Value value = glossary.facet(qualifier.getKey()).orElseThrow().value(qualifier.getValue()).orElseThrow();
      List<String> longer = new ArrayList<>(prefixes);
      for (String begun : prefixes) {
        words.apply(value).forEach(word -> longer.add(begun + word + " "));
      }
      prefixes = longer;
    }
    return prefixes;
  }
}

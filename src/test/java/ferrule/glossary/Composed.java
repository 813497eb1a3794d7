package ferrule.glossary;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** The names that a concept's qualifiers and kinds give, with the qualifiers in the order of the concept. */
final class Composed {

  private Composed() {}

  static Set<String> namesOf(Glossary glossary, Concept concept) {
    Set<String> names = new LinkedHashSet<>();
    for (Concept kind : glossary.kindsOf(concept.id())) {
      for (Term head : kind.terms()) {
        for (List<String> words : qualifiersOf(glossary, concept)) {
          List<String> all = new ArrayList<>(words);
          all.add(head.text());
          names.add(String.join(" ", all));
        }
      }
    }
    return names;
  }

  /** Every choice of words for the qualifiers, some of them left out. */
  private static List<List<String>> qualifiersOf(Glossary glossary, Concept concept) {
    List<List<String>> choices = List.of(List.of());
    for (var qualifier : concept.qualifiers().entrySet()) {
      Facet.Value value = glossary.facet(qualifier.getKey()).orElseThrow().value(qualifier.getValue()).orElseThrow();
      List<List<String>> longer = new ArrayList<>(choices);
      for (List<String> begun : choices) {
        List<String> words = new ArrayList<>(value.also());
        words.add(value.term());
        for (String word : words) {
          List<String> more = new ArrayList<>(begun);
          more.add(word);
          longer.add(more);
        }
      }
      choices = longer;
    }
    return choices;
  }
}

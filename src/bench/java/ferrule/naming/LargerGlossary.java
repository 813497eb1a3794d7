package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.Sense;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;

/**
 * A glossary some dozens of times as large as a real one, with the same structure: the real one copied, the copies told apart
 * by an invented qualifier of nine values and by nine families of nouns, all but one of them invented, so that both the parts
 * that share a noun and the vocabulary grow.
 */
final class LargerGlossary {

  private static final int VALUES = 9;
  private static final String[] ONSETS = {"b", "d", "f", "g", "k", "l", "m", "n", "p", "r", "s", "t", "v", "z", "dr", "gl"};
  private static final String[] VOWELS = {"a", "e", "i", "o", "u", "au", "ei"};
  private static final String[] ENDS = {"n", "r", "l", "m", "nd", "rk", "st", "lt"};

  private final Glossary source;
  private final Random random = new Random(20_261_125);
  private final Map<String, String> invented = new LinkedHashMap<>();

  private LargerGlossary(Glossary source) {
    this.source = source;
  }

  /** A glossary of about {@code VALUES * VALUES} times the concepts of the source. */
  static Glossary of(Glossary source) {
    return new LargerGlossary(source).build();
  }

  private Glossary build() {
    List<Facet.Value> series = values("series");
    List<Facet> facets = new ArrayList<>(source.facets());
    facets.add(new Facet("series", "which series", series));
    List<Concept> concepts = new ArrayList<>();
    for (Facet.Value value : series) {
      for (int family = 0; family < VALUES; family++) {
        copy(value, family, concepts);
      }
    }
    return new Glossary(source.id(), "larger", source.variants(), facets, List.<Sense>of(), concepts);
  }

  private List<Facet.Value> values(String facet) {
    List<Facet.Value> values = new ArrayList<>();
    for (int i = 0; i < VALUES; i++) {
      String word = word(facet + i);
      values.add(new Facet.Value(word, word, List.of()));
    }
    return values;
  }

  private void copy(Facet.Value series, int family, List<Concept> concepts) {
    String suffix = "-" + series.id() + "-" + family;
    for (Concept c : source.concepts()) {
      boolean kind = c.level() == Level.KIND;
      Map<String, String> qualifiers = new LinkedHashMap<>();
      if (!kind) {
        qualifiers.put("series", series.id());
      }
      qualifiers.putAll(c.qualifiers());
      String prefix = kind ? "" : series.term() + " ";
      List<Term> terms =
          c.terms().stream()
              .filter(t -> t.role() != TermRole.MISSPELLING)
              .map(t -> new Term(prefix + (family > 0 ? renamed(t.text(), family) : t.text()), t.role(), Optional.empty()))
              .toList();
      concepts.add(
          new Concept(
              id(c.id(), suffix), c.level(), terms, "", c.broader().map(b -> id(b, suffix)),
              c.partOf().map(w -> id(w, suffix)), List.of(), List.of(),
              c.joins().stream().map(j -> id(j, suffix)).toList(), qualifiers, c.variants(), c.drawn()));
    }
  }

  private static ConceptId id(ConceptId of, String suffix) {
    String value = of.value() + suffix;
    return ConceptId.of(value.length() > 80 ? value.substring(value.length() - 80).replaceFirst("^[-0-9]+", "") : value);
  }

  /** The text with every word that is neither a facet word nor an optional one exchanged for the family's own. */
  private String renamed(String text, int family) {
    List<String> words = new ArrayList<>();
    for (String word : text.split(" ")) {
      words.add(word.length() < 4 || isFacetWord(word) ? word : word(word + family));
    }
    return String.join(" ", words);
  }

  private boolean isFacetWord(String word) {
    return List.of("valve", "trumpet", "assembly").contains(word)
        || source.facets().stream()
            .flatMap(f -> f.values().stream())
            .anyMatch(v -> (" " + v.term() + " " + String.join(" ", v.also()) + " ").contains(" " + word + " "));
  }

  private String word(String key) {
    return invented.computeIfAbsent(key, k -> {
      String word = null;
      while (word == null || invented.containsValue(word)) {
        StringBuilder letters = new StringBuilder();
        for (int i = 0; i < 2 + random.nextInt(2); i++) {
          letters.append(ONSETS[random.nextInt(ONSETS.length)]).append(VOWELS[random.nextInt(VOWELS.length)]);
        }
        word = letters.append(ENDS[random.nextInt(ENDS.length)]).toString();
      }
      return word;
    });
  }
}

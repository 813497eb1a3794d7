package ferrule.glossary;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.curriculum.SoundPart;
import ferrule.curriculum.YamlNode;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads an instrument's {@code glossary.yaml}. */
public final class GlossaryReader {

  private GlossaryReader() {}

  /**
   * The glossary of an instrument.
   *
   * @param instrument the name of its folder, such as {@code trumpet}
   * @param problems receives every fault at once: what the schema forbids and what only a look at the whole shows, such
   *     as a reference that leads nowhere or a term that two parts share
   * @return empty if the file has a fault
   */
  public static Optional<Glossary> read(Curriculum curriculum, String instrument, Problems problems) {
    Problems own = new Problems();
    Optional<SoundPart> part = curriculum.readSoundPart(instrument + "/glossary.yaml", "glossary", own);
    part.ifPresent(sound -> {
      new ReferenceCheck(sound, own).run(instrument);
      new TermCheck(sound, own).run();
    });
    for (Problem problem : own.all()) {
      problems.add(problem.at(), problem.message());
    }
    return own.isEmpty() ? part.map(sound -> glossary(sound.root())) : Optional.empty();
  }

  private static Glossary glossary(YamlNode root) {
    return new Glossary(
        root.text("id"),
        root.text("title"),
        root.list("variants").stream()
            .map(v -> new Variant(v.text("id"), v.text("axis"), v.text("title"))).toList(),
        root.list("facets").stream().map(GlossaryReader::facet).toList(),
        root.list("senses").stream()
            .map(s -> new Sense(s.text("id"), s.text("word"), s.text("gloss"))).toList(),
        root.list("concepts").stream().map(GlossaryReader::concept).toList());
  }

  private static Facet facet(YamlNode node) {
    return new Facet(node.text("id"), node.text("title"), node.list("values").stream()
        .map(v -> new Facet.Value(v.text("id"), v.text("term"), v.texts("also"))).toList());
  }

  private static Concept concept(YamlNode node) {
    Level level = level(node);
    return new Concept(
        ConceptId.of(node.text("id")),
        level,
        terms(node),
        node.text("definition"),
        node.optionalText("broader").map(ConceptId::of),
        node.optionalText("part-of").map(ConceptId::of),
        ids(node, "connects"),
        ids(node, "carries"),
        ids(node, "joins"),
        node.get("qualifiers").map(GlossaryReader::qualifiers).orElse(Map.of()),
        Set.copyOf(node.texts("variants")),
        node.flag("drawn", level == Level.PART || level == Level.REGION));
  }

  /** The level that a concept's entry gives, a part if it gives none. */
  static Level level(YamlNode concept) {
    return concept.optionalText("level").map(l -> Level.valueOf(l.toUpperCase(Locale.ROOT))).orElse(Level.PART);
  }

  private static List<ConceptId> ids(YamlNode node, String key) {
    return node.texts(key).stream().map(ConceptId::of).toList();
  }

  /** The qualifiers that a mapping gives, in its order. */
  static Map<String, String> qualifiers(YamlNode mapping) {
    Map<String, String> qualifiers = new LinkedHashMap<>();
    mapping.entries().forEach((facet, value) -> qualifiers.put(facet, value.text()));
    return qualifiers;
  }

  private static List<Term> terms(YamlNode node) {
    return PlacedTerm.of(node).stream().map(PlacedTerm::term).toList();
  }
}

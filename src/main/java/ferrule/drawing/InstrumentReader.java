package ferrule.drawing;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import ferrule.drawing.Instrument.Pair;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads {@code instrument.yaml} and {@code views.yaml} of an instrument.
 *
 * <p>A part's solids are given in groups. A group may have a frame of its own, dimensions of its own, and may be
 * repeated with other values: in its parts' names <code>{valve}</code> is then replaced by the value of that name.
 */
public final class InstrumentReader {

  private final Glossary glossary;
  private final Problems problems;
  private final List<Shape> shapes = new ArrayList<>();
  private Dimensions dimensions = new Dimensions(Map.of(), Map.of());

  private InstrumentReader(Glossary glossary, Problems problems) {
    this.glossary = glossary;
    this.problems = problems;
  }

  /**
   * The model of an instrument.
   *
   * @param instrument the name of its folder, such as {@code trumpet}
   * @param problems receives all that is wrong, each with its place
   * @return the model, or nothing if anything is wrong with it
   */
  public static Optional<Instrument> read(
      Curriculum curriculum, String instrument, Glossary glossary, Problems problems) {
    int before = problems.all().size();
    Optional<YamlNode> model = curriculum.read(instrument + "/instrument.yaml", "instrument", problems);
    Optional<YamlNode> views = curriculum.read(instrument + "/views.yaml", "views", problems);
    if (model.isEmpty() || views.isEmpty()) {
      return Optional.empty();
    }
    InstrumentReader reader = new InstrumentReader(glossary, problems);
    Instrument read = reader.build(model.get(), views.get());
    return problems.all().size() == before ? Optional.of(read) : Optional.empty();
  }

  private Instrument build(YamlNode model, YamlNode views) {
    dimensions = readDimensions(model);
    for (YamlNode group : model.list("groups")) {
      readGroup(group);
    }
    Map<String, Course> airway = new LinkedHashMap<>();
    model.get("airway").ifPresent(ways -> ways.entries().forEach(
        (name, way) -> guarded(way, () -> airway.put(name, home().course(way)))));
    return new Instrument(
        model.text("id"),
        dimensions,
        shapes,
        airway,
        pairs(model, "joints"),
        pairs(model, "slides"),
        pairs(model, "contacts"),
        new ViewsReader(glossary, problems, home()).read(views));
  }

  private SolidReader home() {
    return new SolidReader(dimensions, Map.of(), Frame.HOME);
  }

  private Dimensions readDimensions(YamlNode model) {
    Map<String, String> formulas = new LinkedHashMap<>();
    Map<String, String> sources = new LinkedHashMap<>();
    Map<String, YamlNode> places = new LinkedHashMap<>();
    model.get("dimensions").ifPresent(all -> all.entries().forEach((name, d) -> {
      formulas.put(name, d.text("value"));
      sources.put(name, d.text("source"));
      places.put(name, d);
    }));
    Dimensions read = new Dimensions(formulas, sources);
    places.forEach((name, node) -> guarded(node, () -> read.get(name)));
    return read;
  }

  private void readGroup(YamlNode group) {
    List<YamlNode> rounds = group.list("each");
    if (rounds.isEmpty()) {
      readRound(group, Map.of());
    }
    for (YamlNode round : rounds) {
      Map<String, String> words = new LinkedHashMap<>();
      round.entries().forEach((name, value) -> words.put(name, value.text()));
      readRound(group, words);
    }
  }

  private void readRound(YamlNode group, Map<String, String> words) {
    Map<String, String> local = new LinkedHashMap<>(words);
    group.get("with").ifPresent(w -> w.entries().forEach((name, value) -> local.put(name, value.text())));
    SolidReader solids = new SolidReader(dimensions, local, Frame.HOME);
    Optional<YamlNode> place = group.get("frame");
    if (place.isPresent()) {
      guarded(place.get(), () -> solids.enter(place.get()));
    }
    for (YamlNode part : group.list("parts")) {
      readPart(part, words, solids);
    }
  }

  private void readPart(YamlNode node, Map<String, String> words, SolidReader solids) {
    String name = node.text("part");
    for (Map.Entry<String, String> w : words.entrySet()) {
      name = name.replace("{" + w.getKey() + "}", w.getValue());
    }
    Optional<Concept> concept = ConceptId.isValid(name) ? glossary.find(ConceptId.of(name)) : Optional.empty();
    if (concept.isEmpty()) {
      problems.add(node.keyAt("part"), "expected the id of a concept of the glossary, found '" + name + "'");
      return;
    }
    Set<String> variants = variantsOf(concept.get(), node);
    Material material = Material.named(node.text("material")).orElseThrow();
    for (YamlNode solid : node.list("solids")) {
      guarded(solid, () ->
          shapes.add(new Shape(concept.get().id(), material, solids.solid(solid), variants)));
    }
  }

  /** A part's own variants, those of what it belongs to, and those that the model adds. */
  private Set<String> variantsOf(Concept concept, YamlNode node) {
    Set<String> variants = new LinkedHashSet<>(concept.variants());
    glossary.wholesOf(concept.id()).forEach(whole -> variants.addAll(whole.variants()));
    for (String v : node.texts("variants")) {
      if (glossary.variants().stream().noneMatch(known -> known.id().equals(v))) {
        problems.add(node.keyAt("variants"), "expected the id of a variant, found '" + v + "'");
      }
      variants.add(v);
    }
    return variants;
  }

  private List<Pair> pairs(YamlNode model, String key) {
    List<Pair> pairs = new ArrayList<>();
    for (YamlNode pair : model.list(key)) {
      List<String> names = pair.items().stream().map(YamlNode::text).toList();
      for (String name : names) {
        if (!ConceptId.isValid(name) || glossary.find(ConceptId.of(name)).isEmpty()) {
          problems.add(pair.at(), "expected the id of a concept of the glossary, found '" + name + "'");
          return pairs;
        }
      }
      pairs.add(new Pair(ConceptId.of(names.get(0)), ConceptId.of(names.get(1))));
    }
    return pairs;
  }

  private void guarded(YamlNode at, Runnable reading) {
    try {
      reading.run();
    } catch (IllegalArgumentException | ArithmeticException e) {
      problems.add(at.at(), e.getMessage());
    }
  }
}

package ferrule.glossary;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.util.List;
import java.util.Optional;

/** Reads an instrument's {@code conventions.yaml} and holds it against the glossary. */
public final class ConventionsReader {

  private final Glossary glossary;
  private final Problems problems;

  private ConventionsReader(Glossary glossary, Problems problems) {
    this.glossary = glossary;
    this.problems = problems;
  }

  /**
   * The conventions of an instrument.
   *
   * @param problems receives every fault: besides breaches of the schema, ids that the glossary does not have, and
   *     neighbours on a path of the air that the glossary does not connect
   * @return empty if the file has a fault
   */
  public static Optional<Conventions> read(
      Curriculum curriculum, String instrument, Glossary glossary, Problems problems) {
    Problems own = new Problems();
    Optional<YamlNode> root = curriculum.read(instrument + "/conventions.yaml", "conventions", own);
    Optional<Conventions> read = root.map(node -> new ConventionsReader(glossary, own).conventions(node));
    for (Problem problem : own.all()) {
      problems.add(problem.at(), problem.message());
    }
    return own.isEmpty() ? read : Optional.empty();
  }

  private Conventions conventions(YamlNode root) {
    return new Conventions(
        ids(root.list("casings")),
        path(root.list("air-path")),
        ids(root.list("knuckles")),
        root.list("pistons").stream().map(this::ports).toList(),
        root.list("slides").stream()
            .map(s -> new Conventions.SlidePath(id(s, "slide"), path(s.list("path")), ids(s.list("moving"))))
            .toList(),
        ids(root.list("levers-by-curve")));
  }

  private Conventions.PistonPorts ports(YamlNode node) {
    return new Conventions.PistonPorts(id(node, "piston"), id(node, "casing"), id(node, "in"), id(node, "out"),
        id(node, "through"), ids(node.list("slide")));
  }

  private List<ConceptId> path(List<YamlNode> nodes) {
    List<ConceptId> path = ids(nodes);
    for (int i = 1; i < path.size(); i++) {
      if (!connected(path.get(i - 1), path.get(i))) {
        problems.add(nodes.get(i).at(), "the glossary does not connect '" + path.get(i) + "' with '" + path.get(i - 1)
            + "'; expected the next part on the way of the air");
      }
    }
    return path;
  }

  private boolean connected(ConceptId a, ConceptId b) {
    boolean known = glossary.find(a).isPresent() && glossary.find(b).isPresent();
    return !known || glossary.get(a).connects().contains(b) || glossary.get(b).connects().contains(a);
  }

  private List<ConceptId> ids(List<YamlNode> nodes) {
    return nodes.stream().map(this::id).toList();
  }

  private ConceptId id(YamlNode node, String key) {
    return id(node.get(key).orElseThrow());
  }

  private ConceptId id(YamlNode node) {
    ConceptId id = ConceptId.of(node.text());
    if (glossary.find(id).isEmpty()) {
      problems.add(node.at(), "'" + id + "' is not in the glossary; expected the id of a part");
    }
    return id;
  }
}

package ferrule.procedure;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Reads {@code tool-crib.yaml}. */
public final class ToolCribReader {

  private static final String FILE = "tool-crib.yaml";

  private final Cautions cautions;
  private final Problems problems;
  private final References references;

  private ToolCribReader(Cautions cautions, Problems problems) {
    this.cautions = cautions;
    this.problems = problems;
    this.references = new References(problems);
  }

  /** The tools and materials; empty if the file has a fault, which is then among the problems. */
  public static Optional<ToolCrib> read(Curriculum curriculum, Cautions cautions, Problems problems) {
    Problems own = new Problems();
    Optional<ToolCrib> crib =
        curriculum.read(FILE, "tool-crib", own).map(root -> new ToolCribReader(cautions, own).crib(root));
    own.all().forEach(p -> problems.add(p.at(), p.message()));
    return own.isEmpty() ? crib : Optional.empty();
  }

  private ToolCrib crib(YamlNode root) {
    eachOnce(root, "tools");
    eachOnce(root, "materials");
    return new ToolCrib(
        root.list("tools").stream().map(this::tool).toList(),
        root.list("materials").stream().map(this::material).toList());
  }

  private void eachOnce(YamlNode root, String list) {
    Set<String> seen = new HashSet<>();
    for (YamlNode node : root.list(list)) {
      if (!seen.add(node.text("id"))) {
        problems.add(
            node.get("id").orElseThrow().at(),
            "id '" + node.text("id") + "' stands twice among the " + list + "; expected an id of its own");
      }
    }
  }

  private Tool tool(YamlNode node) {
    return new Tool(node.text("id"), node.text("name"), node.text("kind"), node.text("use"), cautionsOf(node));
  }

  private Material material(YamlNode node) {
    return new Material(node.text("id"), node.text("name"), node.text("use"), cautionsOf(node));
  }

  private List<Caution> cautionsOf(YamlNode node) {
    return references.follow(node, "cautions", cautions::find, "one of cautions.yaml");
  }
}

package ferrule.procedure;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads {@code cautions.yaml}. */
public final class CautionReader {

  private static final String FILE = "cautions.yaml";

  private CautionReader() {}

  /** The cautions; empty if the file has a fault, which is then among the problems. */
  public static Optional<Cautions> read(Curriculum curriculum, Problems problems) {
    return curriculum.read(FILE, "cautions", problems).map(root -> cautions(root, problems));
  }

  private static Cautions cautions(YamlNode root, Problems problems) {
    Map<String, Caution> byId = new LinkedHashMap<>();
    for (YamlNode node : root.list("cautions")) {
      Caution caution =
          new Caution(node.text("id"), node.text("title"), node.text("hazard"), node.text("measure"));
      if (byId.putIfAbsent(caution.id(), caution) != null) {
        problems.add(node.keyAt("id"), "caution id '" + caution.id() + "' stands twice; expected another id");
      }
    }
    return new Cautions(root.text("rests-with"), List.copyOf(byId.values()));
  }
}

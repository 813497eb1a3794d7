package ferrule.procedure;

import java.util.List;
import java.util.Optional;

/**
 * The tools and materials that procedures can ask for.
 *
 * @param tools in the order of the file
 * @param materials in the order of the file
 */
public record ToolCrib(List<Tool> tools, List<Material> materials) {

  /** Copies the lists. */
  public ToolCrib {
    tools = List.copyOf(tools);
    materials = List.copyOf(materials);
  }

  /** The tool with this id, if there is one. */
  public Optional<Tool> tool(String id) {
    return tools.stream().filter(t -> t.id().equals(id)).findFirst();
  }

  /** The material with this id, if there is one. */
  public Optional<Material> material(String id) {
    return materials.stream().filter(m -> m.id().equals(id)).findFirst();
  }
}

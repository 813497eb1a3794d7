package ferrule.procedure;

import ferrule.glossary.ConceptId;
import java.util.List;

/**
 * One step of a procedure.
 *
 * @param id stable name within the procedure
 * @param name a few words in the imperative, such as "Flux the joint"
 * @param instruction how it is done
 * @param parts of the instrument that it touches
 * @param tools that it takes
 * @param materials that it uses up
 * @param cautions what can hurt in doing it
 * @param measurements what is measured in it
 * @param figures facts to know, each with its source
 */
public record Step(
    StepId id,
    String name,
    String instruction,
    List<ConceptId> parts,
    List<Tool> tools,
    List<Material> materials,
    List<Caution> cautions,
    List<Measurement> measurements,
    List<Figure> figures) {

  /** Copies the lists and checks that no text is blank. */
  public Step {
    if (name.isBlank() || instruction.isBlank()) {
      throw new IllegalArgumentException("a step has a name and an instruction; given: " + id);
    }
    parts = List.copyOf(parts);
    tools = List.copyOf(tools);
    materials = List.copyOf(materials);
    cautions = List.copyOf(cautions);
    measurements = List.copyOf(measurements);
    figures = List.copyOf(figures);
  }
}

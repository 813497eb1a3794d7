package ferrule.procedure;

import java.util.List;

/**
 * What is used up at the bench.
 *
 * @param id stable name, such as {@code soft-solder}
 * @param name such as "soft solder"
 * @param use what it is for
 * @param cautions what can hurt wherever it is used
 */
public record Material(String id, String name, String use, List<Caution> cautions) {

  /** Copies the list and checks that no text is blank. */
  public Material {
    if (id.isBlank() || name.isBlank() || use.isBlank()) {
      throw new IllegalArgumentException("a material has an id, a name and a use; given: " + id);
    }
    cautions = List.copyOf(cautions);
  }
}

package ferrule.procedure;

import java.util.List;

/**
 * A tool of the bench.
 *
 * @param id stable name, such as {@code spring-hook}
 * @param name such as "spring hook"
 * @param kind the sort of work that it does, such as {@code measuring}; a tool can stand in only for others of its kind
 * @param use what it is for
 * @param cautions what can hurt wherever it is used
 */
public record Tool(String id, String name, String kind, String use, List<Caution> cautions) {

  /** Copies the list and checks that no text is blank. */
  public Tool {
    if (id.isBlank() || name.isBlank() || kind.isBlank() || use.isBlank()) {
      throw new IllegalArgumentException("a tool has an id, a name, a kind and a use; given: " + id);
    }
    cautions = List.copyOf(cautions);
  }
}

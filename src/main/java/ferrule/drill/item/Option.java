package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.util.Optional;

/**
 * One answer to choose.
 *
 * @param id tells it from the other options of its item: the id of a part, a step, a tool or a caution
 * @param text what it says
 * @param isKey whether it is the right one
 * @param because why it is right or wrong, in sentences; empty if {@link ferrule.naming} says it better
 */
public record Option(String id, String text, boolean isKey, String because) {

  /** Checks that it says something. */
  public Option {
    if (id.isBlank() || text.isBlank()) {
      throw new IllegalArgumentException("an option has an id and a text; given: " + id + ", " + text);
    }
  }

  /** The part that it names, if its id is one of a part. */
  public Optional<ConceptId> part() {
    return ConceptId.isValid(id) ? Optional.of(ConceptId.of(id)) : Optional.empty();
  }
}

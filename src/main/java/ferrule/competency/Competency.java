package ferrule.competency;

import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Something that an apprentice can do.
 *
 * @param id stable name
 * @param title such as "Water keys"
 * @param says what whoever holds it can do
 * @param week the week of the programme, counted from 1, by whose end it is meant to be complete, if one is planned
 * @param requires what proves it
 */
public record Competency(String id, String title, String says, OptionalInt week, Requirement requires) {

  /** Checks that no text is blank. */
  public Competency {
    if (id.isBlank() || title.isBlank() || says.isBlank()) {
      throw new IllegalArgumentException("a competency has an id, a title and what it says; given: " + id);
    }
  }

  /** The ids of the competencies that its rule names as coming first. */
  Set<String> prerequisites() {
    return requires.all().filter(Requirement.Holds.class::isInstance)
        .map(r -> ((Requirement.Holds) r).competency()).collect(Collectors.toSet());
  }
}

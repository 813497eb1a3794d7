package ferrule.competency;

/**
 * Something that an apprentice can do.
 *
 * @param id stable name
 * @param title such as "Water keys"
 * @param says what whoever holds it can do
 * @param requires what proves it
 */
public record Competency(String id, String title, String says, Requirement requires) {

  /** Checks that no text is blank. */
  public Competency {
    if (id.isBlank() || title.isBlank() || says.isBlank()) {
      throw new IllegalArgumentException("a competency has an id, a title and what it says; given: " + id);
    }
  }
}

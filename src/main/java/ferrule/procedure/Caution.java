package ferrule.procedure;

/**
 * One thing that can hurt at the bench, and the usual caution against it.
 *
 * @param id stable name, such as {@code flying-spring}
 * @param title a few words, such as "Springs that fly"
 * @param hazard what can hurt, and how
 * @param measure what to do so that it does not
 */
public record Caution(String id, String title, String hazard, String measure) {

  /** Checks that no text is blank. */
  public Caution {
    if (id.isBlank() || title.isBlank() || hazard.isBlank() || measure.isBlank()) {
      throw new IllegalArgumentException("a caution has an id, a title, a hazard and a measure; given: " + id);
    }
  }
}

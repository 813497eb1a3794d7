package ferrule.procedure;

/**
 * A fact or figure and where it comes from.
 *
 * @param fact in a sentence
 * @param source a publication, or "common practice, no source"
 */
public record Figure(String fact, String source) {

  /** Checks that neither is blank. */
  public Figure {
    if (fact.isBlank() || source.isBlank()) {
      throw new IllegalArgumentException("a figure says where it comes from; given: " + fact);
    }
  }
}

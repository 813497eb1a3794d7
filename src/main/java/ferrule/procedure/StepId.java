package ferrule.procedure;

import ferrule.glossary.ConceptId;

/**
 * The stable name of a step within its procedure, such as {@code flux-joint}.
 *
 * @param value lower-case words joined by hyphens
 */
public record StepId(String value) implements Comparable<StepId> {

  /** Checks the shape. */
  public StepId {
    if (!ConceptId.isValid(value)) {
      throw new IllegalArgumentException("a step id is lower-case words joined by hyphens; given: " + value);
    }
  }

  /** The id with this text; throws {@link IllegalArgumentException} if the text is not of an id's shape. */
  public static StepId of(String value) {
    return new StepId(value);
  }

  @Override
  public int compareTo(StepId other) {
    return value.compareTo(other.value);
  }

  @Override
  public String toString() {
    return value;
  }
}

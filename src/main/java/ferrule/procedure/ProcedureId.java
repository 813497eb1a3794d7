package ferrule.procedure;

import ferrule.glossary.ConceptId;

/**
 * The stable name of a procedure, such as {@code solder-loose-brace}. Never reused for another procedure.
 *
 * @param value lower-case words joined by hyphens
 */
public record ProcedureId(String value) implements Comparable<ProcedureId> {

  /** Checks the shape. */
  public ProcedureId {
    if (!ConceptId.isValid(value)) {
      throw new IllegalArgumentException("a procedure id is lower-case words joined by hyphens; given: " + value);
    }
  }

  /** The id with this text; throws {@link IllegalArgumentException} if the text is not of an id's shape. */
  public static ProcedureId of(String value) {
    return new ProcedureId(value);
  }

  @Override
  public int compareTo(ProcedureId other) {
    return value.compareTo(other.value);
  }

  @Override
  public String toString() {
    return value;
  }
}

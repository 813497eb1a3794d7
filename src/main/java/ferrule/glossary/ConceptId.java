package ferrule.glossary;

import java.util.regex.Pattern;

/**
 * The stable name of a concept, such as {@code third-slide-crook}. Ids are never reused for another concept.
 *
 * @param value lower-case letters, digits and single hyphens, starting with a letter; 1 to 80 characters
 */
public record ConceptId(String value) implements Comparable<ConceptId> {

  private static final Pattern SHAPE = Pattern.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*");

  /** Checks the shape. */
  public ConceptId {
    if (value == null || value.length() > 80 || !SHAPE.matcher(value).matches()) {
      throw new IllegalArgumentException(
          "a concept id is lower-case words joined by hyphens, at most 80 characters; given: " + value);
    }
  }

  /** The id with this text; throws {@link IllegalArgumentException} if the text is not of an id's shape. */
  public static ConceptId of(String value) {
    return new ConceptId(value);
  }

  /** Whether the text has the shape of an id. */
  public static boolean isValid(String text) {
    return text != null && text.length() <= 80 && SHAPE.matcher(text).matches();
  }

  @Override
  public int compareTo(ConceptId other) {
    return value.compareTo(other.value);
  }

  @Override
  public String toString() {
    return value;
  }
}

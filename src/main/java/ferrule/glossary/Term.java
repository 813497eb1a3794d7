package ferrule.glossary;

import java.util.Optional;

/**
 * One label of a concept.
 *
 * @param text the words as they are written on a shop ticket, never blank
 * @param role its role among the concept's labels
 * @param sense the id of the {@link Sense} in which an ambiguous word is meant, if it is one
 */
public record Term(String text, TermRole role, Optional<String> sense) {

  /** Checks that there is a text. */
  public Term {
    if (text == null || text.isBlank()) {
      throw new IllegalArgumentException("a term needs words");
    }
  }

  /** A term with one meaning. */
  public static Term of(String text, TermRole role) {
    return new Term(text, role, Optional.empty());
  }
}

package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Optional;

/** What an apprentice answered. */
public sealed interface Answer {

  /** The longest name that is taken. */
  int LONGEST = 200;

  /**
   * A name, as it was typed; empty for "I do not know".
   *
   * @param text at most {@value #LONGEST} characters
   */
  record Typed(String text) implements Answer {

    /** Strips the text and checks its length. */
    public Typed {
      text = text.strip();
      if (text.length() > LONGEST) {
        throw new IllegalArgumentException("a name has at most " + LONGEST + " characters; given: " + text.length());
      }
    }
  }

  /**
   * A place on the drawing.
   *
   * @param part the part whose shape was chosen; empty for "I do not know"
   */
  record Pointed(Optional<ConceptId> part) implements Answer {}
}

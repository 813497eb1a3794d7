package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.List;
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

  /**
   * An option.
   *
   * @param option its id; empty for "I do not know"
   */
  record Chosen(Optional<String> option) implements Answer {}

  /**
   * Steps in an order.
   *
   * @param steps their ids, each once; empty for "I do not know"
   */
  record Ordered(List<String> steps) implements Answer {

    /** Copies the list. */
    public Ordered {
      steps = List.copyOf(steps);
    }
  }

  /** "I do not know", as the answer to an item of this kind. */
  static Answer none(ItemKind kind) {
    if (kind.isTyped()) {
      return new Typed("");
    }
    if (kind.isPointed()) {
      return new Pointed(Optional.empty());
    }
    return kind.isChosen() ? new Chosen(Optional.empty()) : new Ordered(List.of());
  }
}

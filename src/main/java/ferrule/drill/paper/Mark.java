package ferrule.drill.paper;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/** What an instructor enters for one item of a paper. */
public enum Mark {
  /** The answer is right. */
  RIGHT("Right", 1),
  /** The answer is half right. */
  HALF("Half", 0.5),
  /** The answer is wrong. */
  WRONG("Wrong", 0),
  /** Nothing was written. */
  BLANK("Blank", 0),
  /** The answer was copied from the paper and is judged by the reader of names. */
  WRITTEN("Written", 0);

  private final String label;
  private final double credit;

  Mark(String label, double credit) {
    this.label = label;
    this.credit = credit;
  }

  /** What stands on its button. */
  public String label() {
    return label;
  }

  /** The share of the item's point; of {@link #WRITTEN} nothing is known before it is judged. */
  public double credit() {
    return credit;
  }

  /** The word under which it is stored, such as "half". */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The mark with this word, if there is one. */
  public static Optional<Mark> find(String word) {
    return Stream.of(values()).filter(m -> m.word().equals(word)).findFirst();
  }
}

package ferrule.drill.paper;

/**
 * What was entered for one item of a paper.
 *
 * @param number the item's number on the paper
 * @param mark what was tapped
 * @param written what the apprentice wrote, where it was copied; otherwise empty
 */
public record Tap(int number, Mark mark, String written) {

  /** Strips the text and checks that there is one exactly where it is to be judged. */
  public Tap {
    written = written.strip();
    if (written.isEmpty() == (mark == Mark.WRITTEN)) {
      throw new IllegalArgumentException(mark + " with the text '" + written + "'");
    }
  }

  /** A tap without text. */
  static Tap of(int number, Mark mark) {
    return new Tap(number, mark, "");
  }
}

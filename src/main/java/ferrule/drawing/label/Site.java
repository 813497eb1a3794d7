package ferrule.drawing.label;

/**
 * A point of the picture and what is to be written beside it.
 *
 * @param at a visible point inside the part
 * @param text one line, not blank
 */
public record Site(Point at, String text) {

  /** Checks that there is a text. */
  public Site {
    if (text == null || text.isBlank()) {
      throw new IllegalArgumentException("a label needs words");
    }
  }
}

package ferrule.drawing;

/**
 * How much of a part is seen in a picture.
 *
 * @param fraction the visible share of all that would be seen of it if nothing stood in front, from 0 to 1
 * @param areaPx the visible area in square px of a picture {@value Studio#WIDTH} px wide
 * @param anchor the visible point that lies deepest inside the part's visible area, in px of the picture
 */
public record Visible(double fraction, double areaPx, Point anchor) {

  /**
   * A point of a picture.
   *
   * @param x px from the left
   * @param y px from the top
   */
  public record Point(double x, double y) {}
}

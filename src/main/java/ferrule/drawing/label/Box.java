package ferrule.drawing.label;

/**
 * An upright rectangle in picture units.
 *
 * @param x its left edge
 * @param y its upper edge
 * @param width more than 0
 * @param height more than 0
 */
public record Box(double x, double y, double width, double height) {

  /** Checks that the box has an inside. */
  public Box {
    if (!(width > 0) || !(height > 0) || !Double.isFinite(x + y + width + height)) {
      throw new IllegalArgumentException(
          "a box needs a place and a size above 0; given: " + x + ", " + y + ", " + width + " by " + height);
    }
  }

  /** Its right edge. */
  public double right() {
    return x + width;
  }

  /** Its lower edge. */
  public double bottom() {
    return y + height;
  }

  /** Whether a point lies inside it, not on its edge. */
  public boolean holds(Point point) {
    return point.x() > x && point.x() < right() && point.y() > y && point.y() < bottom();
  }

  /** Whether the two share any of their insides; boxes that only touch do not. */
  public boolean overlaps(Box other) {
    return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
  }

  /** Whether the other lies in this one, edges included, to a millionth of a unit. */
  public boolean contains(Box other) {
    double slip = 1e-6;
    return other.x >= x - slip
        && other.y >= y - slip
        && other.right() <= right() + slip
        && other.bottom() <= bottom() + slip;
  }

  /** This box grown by so much above and below. */
  Box taller(double each) {
    return new Box(x, y - each, width, height + 2 * each);
  }

  /** The smallest box round both. */
  public Box with(Box other) {
    double left = Math.min(x, other.x);
    double top = Math.min(y, other.y);
    return new Box(left, top, Math.max(right(), other.right()) - left, Math.max(bottom(), other.bottom()) - top);
  }
}

package ferrule.drawing.label;

/**
 * A point of the picture.
 *
 * @param x to the right, in picture units, finite
 * @param y downward, in picture units, finite
 */
public record Point(double x, double y) {

  /** Checks that the point is somewhere. */
  public Point {
    if (!Double.isFinite(x) || !Double.isFinite(y)) {
      throw new IllegalArgumentException("a point needs finite coordinates; given: " + x + ", " + y);
    }
  }

  /** The straight distance to another point. */
  public double distanceTo(Point other) {
    return Math.hypot(x - other.x, y - other.y);
  }
}

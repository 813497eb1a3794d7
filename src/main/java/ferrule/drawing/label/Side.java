package ferrule.drawing.label;

/** A side of the picture at which labels stand, in clockwise order from the top. */
public enum Side {
  /** Above the picture. */
  TOP,
  /** On the right of it. */
  RIGHT,
  /** Below it. */
  BOTTOM,
  /** On the left of it. */
  LEFT;

  /** Whether its labels stand one above the other. */
  boolean isUpright() {
    return this == LEFT || this == RIGHT;
  }
}

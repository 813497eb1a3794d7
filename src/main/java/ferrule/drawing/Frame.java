package ferrule.drawing;

/**
 * A place to put something that is described in its own coordinates: an origin and three directions square to one
 * another. Rigid: lengths and angles stay.
 */
public record Frame(Vec origin, Vec x, Vec y, Vec z) {

  /** The frame of the instrument itself. */
  public static final Frame HOME =
      new Frame(Vec.ZERO, new Vec(1, 0, 0), new Vec(0, 1, 0), new Vec(0, 0, 1));

  /** The frame at a point with these directions; y is made square to x, and z completes a right-handed frame. */
  public static Frame of(Vec origin, Vec x, Vec y) {
    Vec ux = x.unit();
    Vec uy = y.minus(ux.times(y.dot(ux))).unit();
    return new Frame(origin, ux, uy, ux.cross(uy));
  }

  /** A point of this frame's coordinates, in the outer ones. */
  public Vec point(Vec p) {
    return origin.plus(direction(p));
  }

  /** A direction of this frame's coordinates, in the outer ones. */
  public Vec direction(Vec d) {
    return x.times(d.x()).plus(y.times(d.y())).plus(z.times(d.z()));
  }
}

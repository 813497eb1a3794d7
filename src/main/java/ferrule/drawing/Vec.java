package ferrule.drawing;

/**
 * A point or a direction in space, in millimetres. The frame is right-handed: x toward the bell, y up, z toward the
 * player's right; after {@link Camera#turn} x is right and y up on the picture and z comes toward the viewer.
 */
public record Vec(double x, double y, double z) {

  /** The origin. */
  public static final Vec ZERO = new Vec(0, 0, 0);

  /** The sum. */
  public Vec plus(Vec o) {
    return new Vec(x + o.x, y + o.y, z + o.z);
  }

  /** The difference, from the other to this. */
  public Vec minus(Vec o) {
    return new Vec(x - o.x, y - o.y, z - o.z);
  }

  /** This, so many times as long. */
  public Vec times(double k) {
    return new Vec(x * k, y * k, z * k);
  }

  /** The scalar product. */
  public double dot(Vec o) {
    return x * o.x + y * o.y + z * o.z;
  }

  /** The vector product. */
  public Vec cross(Vec o) {
    return new Vec(y * o.z - z * o.y, z * o.x - x * o.z, x * o.y - y * o.x);
  }

  /** The length. */
  public double length() {
    return Math.sqrt(dot(this));
  }

  /** The distance between two points. */
  public double distance(Vec o) {
    return minus(o).length();
  }

  /**
   * The direction of this, of length 1.
   *
   * @throws ArithmeticException if this has no direction
   */
  public Vec unit() {
    double l = length();
    if (l < 1e-12) {
      throw new ArithmeticException("a vector of no length has no direction");
    }
    return times(1 / l);
  }

  /** A direction square to this one, always the same for the same input. */
  public Vec anyNormal() {
    Vec u = unit();
    Vec helper = Math.abs(u.y) < 0.9 ? new Vec(0, 1, 0) : new Vec(1, 0, 0);
    return helper.minus(u.times(helper.dot(u))).unit();
  }

  /** This turned about an axis of length 1 by an angle in radians, right-handed (Rodrigues' formula). */
  public Vec turned(Vec axis, double angle) {
    double c = Math.cos(angle);
    double s = Math.sin(angle);
    return times(c).plus(axis.cross(this).times(s)).plus(axis.times(axis.dot(this) * (1 - c)));
  }
}

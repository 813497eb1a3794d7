package ferrule.drawing;

/**
 * A side to look from, without perspective: all lines of sight are parallel.
 *
 * @param right the model's direction that points right on the picture, of length 1
 * @param up the model's direction that points up on the picture, of length 1
 * @param toward the model's direction that points at the viewer, of length 1
 */
public record Camera(Vec right, Vec up, Vec toward) {

  /**
   * The camera that stands in a direction.
   *
   * @param from the direction from the instrument to the viewer
   * @param up a direction that shall point up on the picture, not the same as the line of sight
   */
  public static Camera from(Vec from, Vec up) {
    Vec toward = from.unit();
    Vec u = up.minus(toward.times(up.dot(toward))).unit();
    return new Camera(u.cross(toward), u, toward);
  }

  /** A point or a direction of the model as the viewer has it: x right, y up, z toward the viewer. */
  public Vec turn(Vec v) {
    return new Vec(v.dot(right), v.dot(up), v.dot(toward));
  }

  /** The frame by which solids are turned. */
  Frame frame() {
    return new Frame(
        Vec.ZERO,
        new Vec(right.x(), up.x(), toward.x()),
        new Vec(right.y(), up.y(), toward.y()),
        new Vec(right.z(), up.z(), toward.z()));
  }
}

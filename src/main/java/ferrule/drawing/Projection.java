package ferrule.drawing;

/**
 * The way from the model to the picture: turned by a camera, scaled, and shifted. On the picture x is right and y is
 * down, both in px; z is toward the viewer in the same unit.
 *
 * @param camera the side
 * @param scale px for each mm
 * @param shiftX added to x, in px
 * @param shiftY added to y, in px
 */
record Projection(Camera camera, double scale, double shiftX, double shiftY) {

  /** A point of the model on the picture. */
  Vec point(Vec p) {
    Vec t = camera.turn(p);
    return new Vec(t.x() * scale + shiftX, -t.y() * scale + shiftY, t.z() * scale);
  }

  /** A direction of the model on the picture, of the same length. */
  Vec direction(Vec d) {
    Vec t = camera.turn(d);
    return new Vec(t.x(), -t.y(), t.z());
  }

  /** The same picture at another size. */
  Projection resized(double factor) {
    return new Projection(camera, scale * factor, shiftX * factor, shiftY * factor);
  }
}

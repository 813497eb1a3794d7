package ferrule.drawing;

import java.util.List;

/** The smallest upright rectangle around shapes as a camera sees them, in mm; x right, y up. */
record Bounds(double minX, double minY, double maxX, double maxY) {

  static Bounds of(List<Shape> shapes, Camera camera) {
    double[] b = {1e9, 1e9, -1e9, -1e9};
    for (Shape shape : shapes) {
      if (shape.solid() instanceof Sweep sweep) {
        for (Station s : sweep.stations()) {
          Vec at = camera.turn(s.at());
          Vec along = camera.turn(s.along());
          double rx = s.radius() * Math.sqrt(Math.max(0, 1 - along.x() * along.x()));
          double ry = s.radius() * Math.sqrt(Math.max(0, 1 - along.y() * along.y()));
          widen(b, at.x() - rx, at.y() - ry);
          widen(b, at.x() + rx, at.y() + ry);
        }
      } else if (shape.solid() instanceof Facets facets) {
        for (Facets.Face face : facets.faces()) {
          for (Vec corner : face.corners()) {
            Vec c = camera.turn(corner);
            widen(b, c.x(), c.y());
          }
        }
      }
    }
    return new Bounds(b[0], b[1], b[2], b[3]);
  }

  private static void widen(double[] b, double x, double y) {
    b[0] = Math.min(b[0], x);
    b[1] = Math.min(b[1], y);
    b[2] = Math.max(b[2], x);
    b[3] = Math.max(b[3], y);
  }

  /** The middle of the box around shapes, in the instrument's frame. */
  static Vec middle(List<Shape> shapes) {
    Bounds front = of(shapes, new Camera(new Vec(1, 0, 0), new Vec(0, 1, 0), new Vec(0, 0, 1)));
    Bounds side = of(shapes, new Camera(new Vec(0, 0, -1), new Vec(0, 1, 0), new Vec(1, 0, 0)));
    return new Vec(
        (front.minX + front.maxX) / 2, (front.minY + front.maxY) / 2, -(side.minX + side.maxX) / 2);
  }

  double width() {
    return maxX - minX;
  }

  double height() {
    return maxY - minY;
  }
}

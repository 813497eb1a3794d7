package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;

/**
 * A body bounded by flat faces: plates, levers, saddles, bent strips.
 *
 * @param faces the faces; a body is shut, a patch is a single face that shows from its front only
 * @param coarse the same body with fewer faces, for pictures in which it is small
 */
public record Facets(List<Face> faces, List<Face> coarse) implements Solid {

  private static final double STRIP_STEP = Math.toRadians(5);
  private static final double COARSE_STRIP_STEP = Math.toRadians(15);
  /** At fewer px for each mm the coarse faces will do. */
  private static final double COARSE_SCALE = 4;

  /**
   * One flat face.
   *
   * @param corners in order around it, anticlockwise as seen from outside; at least three
   * @param outward the direction that it faces, of length 1
   * @param rim which of its edges, from corner i to the next, are edges of the body and drawn as lines
   */
  public record Face(List<Vec> corners, Vec outward, List<Boolean> rim) {

    /** Copies the lists. */
    public Face {
      corners = List.copyOf(corners);
      rim = List.copyOf(rim);
      if (corners.size() < 3 || rim.size() != corners.size()) {
        throw new IllegalArgumentException("a face needs at least three corners and as many edges");
      }
    }

    Face in(Frame f) {
      return new Face(corners.stream().map(f::point).toList(), f.direction(outward), rim);
    }

    Face moved(Vec by) {
      return new Face(corners.stream().map(c -> c.plus(by)).toList(), outward, rim);
    }
  }

  /** Copies the lists. */
  public Facets {
    faces = List.copyOf(faces);
    coarse = List.copyOf(coarse);
  }

  /** A body that looks the same at every scale. */
  static Facets of(List<Face> faces) {
    return new Facets(faces, faces);
  }

  /** The faces to draw at so many px for each mm. */
  List<Face> at(double scale) {
    return scale < COARSE_SCALE ? coarse : faces;
  }

  /**
   * A plate: an outline in a plane, given a thickness to both sides of the plane.
   *
   * @param frame the plane is its x-y plane
   * @param outline the corners in the plane, anticlockwise
   * @param thickness in mm
   */
  public static Facets plate(Frame frame, List<double[]> outline, double thickness) {
    if (area(outline) <= 0) {
      throw new IllegalArgumentException("expected an outline that runs anticlockwise round some area");
    }
    List<Vec> top = new ArrayList<>();
    List<Vec> bottom = new ArrayList<>();
    for (double[] p : outline) {
      top.add(frame.point(new Vec(p[0], p[1], thickness / 2)));
      bottom.add(0, frame.point(new Vec(p[0], p[1], -thickness / 2)));
    }
    int n = outline.size();
    List<Face> faces = new ArrayList<>();
    faces.add(new Face(top, frame.z(), allTrue(n)));
    faces.add(new Face(bottom, frame.z().times(-1), allTrue(n)));
    for (int i = 0; i < n; i++) {
      int j = (i + 1) % n;
      Vec a = top.get(i);
      Vec b = top.get(j);
      Vec c = bottom.get(n - 1 - j);
      Vec d = bottom.get(n - 1 - i);
      boolean atI = sharp(outline, i);
      boolean atJ = sharp(outline, j);
      faces.add(new Face(List.of(a, d, c, b), b.minus(a).cross(frame.z()).unit(), List.of(atI, true, atJ, true)));
    }
    return of(faces);
  }

  private static double area(List<double[]> outline) {
    double sum = 0;
    for (int i = 0; i < outline.size(); i++) {
      double[] a = outline.get(i);
      double[] b = outline.get((i + 1) % outline.size());
      sum += a[0] * b[1] - b[0] * a[1];
    }
    return sum / 2;
  }

  private static boolean sharp(List<double[]> outline, int i) {
    int n = outline.size();
    double[] a = outline.get((i + n - 1) % n);
    double[] b = outline.get(i);
    double[] c = outline.get((i + 1) % n);
    double before = Math.atan2(b[1] - a[1], b[0] - a[0]);
    double after = Math.atan2(c[1] - b[1], c[0] - b[0]);
    return Math.abs(Math.IEEEremainder(after - before, 2 * Math.PI)) > Math.toRadians(35);
  }

  /**
   * A strip bent along a course.
   *
   * @param across the direction of its width, square to the course everywhere
   * @param width in mm, at the start and at the end
   * @param thickness in mm
   */
  public static Facets strip(Course course, Vec across, double[] width, double thickness) {
    return new Facets(
        strip(course, across, width, thickness, STRIP_STEP),
        strip(course, across, width, thickness, COARSE_STRIP_STEP));
  }

  private static List<Face> strip(Course course, Vec across, double[] width, double thickness, double step) {
    List<Station> line = Sweep.tube(course, mm -> 1, 0, 1e9, step).stations();
    Vec side = across.unit();
    List<Vec[]> sections = new ArrayList<>();
    double total = course.length();
    double done = 0;
    for (int i = 0; i < line.size(); i++) {
      done += i == 0 ? 0 : line.get(i).at().distance(line.get(i - 1).at());
      double half = (width[0] + (width[1] - width[0]) * Math.min(1, done / total)) / 2;
      Vec up = line.get(i).along().cross(side).unit().times(thickness / 2);
      Vec w = side.times(half);
      Vec c = line.get(i).at();
      sections.add(new Vec[] {
        c.plus(w).plus(up), c.minus(w).plus(up), c.minus(w).minus(up), c.plus(w).minus(up)
      });
    }
    List<Face> faces = new ArrayList<>();
    for (int i = 0; i + 1 < sections.size(); i++) {
      for (int k = 0; k < 4; k++) {
        faces.add(sideOf(sections.get(i), sections.get(i + 1), k));
      }
    }
    if (course.start().distance(course.end()) > 1e-6) {
      Vec[] first = sections.get(0);
      Vec[] last = sections.get(sections.size() - 1);
      faces.add(new Face(List.of(first), line.get(0).along().times(-1), allTrue(4)));
      faces.add(new Face(List.of(last), line.get(line.size() - 1).along(), allTrue(4)));
    }
    return faces;
  }

  private static Face sideOf(Vec[] a, Vec[] b, int k) {
    int l = (k + 1) % 4;
    Vec middle = a[0].plus(a[2]).times(0.5);
    Vec outward = a[k].plus(a[l]).times(0.5).minus(middle).unit();
    return new Face(List.of(a[k], a[l], b[l], b[k]), outward, List.of(false, true, false, true));
  }

  /**
   * A hole seen on the surface of a round body: a patch that lies on it.
   *
   * @param axisPoint the point of the body's axis on a level with the middle of the hole
   * @param axis the body's axis
   * @param toward from the axis to the middle of the hole
   * @param body the body's radius in mm
   * @param radius the hole's radius in mm, less than the body's
   */
  public static Facets hole(Vec axisPoint, Vec axis, Vec toward, double body, double radius) {
    Vec up = axis.unit();
    Vec out = toward.minus(up.times(toward.dot(up))).unit();
    Vec side = up.cross(out);
    return new Facets(
        hole(axisPoint, up, out, side, body, radius, 20), hole(axisPoint, up, out, side, body, radius, 6));
  }

  private static List<Face> hole(
      Vec axisPoint, Vec up, Vec out, Vec side, double body, double radius, int strips) {
    List<Face> faces = new ArrayList<>();
    for (int i = 0; i < strips; i++) {
      List<Vec> corners = new ArrayList<>();
      double u0 = -Math.cos(Math.PI * i / strips);
      double u1 = -Math.cos(Math.PI * (i + 1) / strips);
      for (int k = 0; k <= 4; k++) {
        corners.add(rimPoint(axisPoint, up, out, side, body, radius, u0 + (u1 - u0) * k / 4, -1));
      }
      for (int k = 4; k >= 0; k--) {
        corners.add(rimPoint(axisPoint, up, out, side, body, radius, u0 + (u1 - u0) * k / 4, 1));
      }
      double middle = Math.asin((u0 + u1) / 2 * radius / body);
      Vec outward = out.times(Math.cos(middle)).plus(side.times(Math.sin(middle)));
      List<Boolean> rim = new ArrayList<>(
          List.of(true, true, true, true, false, true, true, true, true, false));
      faces.add(new Face(corners, outward, rim));
    }
    return faces;
  }

  private static Vec rimPoint(
      Vec c, Vec up, Vec out, Vec side, double body, double radius, double u, int sign) {
    double s = radius * u;
    double h = radius * Math.sqrt(Math.max(0, 1 - u * u)) * sign;
    return c.plus(side.times(s)).plus(up.times(h)).plus(out.times(Math.sqrt(body * body - s * s) + 0.05));
  }

  private static List<Boolean> allTrue(int n) {
    return java.util.Collections.nCopies(n, true);
  }

  @Override
  public Facets in(Frame frame) {
    return with(f -> f.in(frame));
  }

  @Override
  public Facets moved(Vec by) {
    return with(f -> f.moved(by));
  }

  private Facets with(UnaryOperator<Face> change) {
    return new Facets(faces.stream().map(change).toList(), coarse.stream().map(change).toList());
  }
}

package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;

/** Convex polygons on the picture: points of x and y in order around. */
final class Convex {

  private Convex() {}

  /** An ellipse about a centre with these two half axes, as a polygon. */
  static List<double[]> ellipse(double cx, double cy, double ax, double ay, double bx, double by) {
    double size = Math.max(Math.hypot(ax, ay), Math.hypot(bx, by));
    int n = size < 2.5 ? 10 : size < 8 ? 18 : size < 30 ? 32 : 56;
    List<double[]> points = new ArrayList<>(n);
    for (int i = 0; i < n; i++) {
      double a = 2 * Math.PI * i / n;
      double c = Math.cos(a);
      double s = Math.sin(a);
      points.add(new double[] {cx + c * ax + s * bx, cy + c * ay + s * by});
    }
    return points;
  }

  /**
   * The part of a convex polygon within another (Sutherland and Hodgman 1974); empty if there is none. Quick if the
   * subject, the first, lies wholly within the window.
   */
  static List<double[]> clip(List<double[]> subject, List<double[]> window) {
    double sign = Math.signum(area(window));
    List<double[]> result = subject;
    for (int i = 0; i < window.size() && !result.isEmpty(); i++) {
      result = cut(result, window.get(i), window.get((i + 1) % window.size()), sign);
    }
    return result;
  }

  private static List<double[]> cut(List<double[]> polygon, double[] a, double[] b, double sign) {
    if (isWithin(polygon, a, b, sign)) {
      return polygon;
    }
    List<double[]> kept = new ArrayList<>(polygon.size() + 1);
    for (int i = 0; i < polygon.size(); i++) {
      double[] p = polygon.get(i);
      double[] q = polygon.get((i + 1) % polygon.size());
      double sp = sign * side(a, b, p);
      double sq = sign * side(a, b, q);
      if (sp >= 0) {
        kept.add(p);
      }
      if (sp >= 0 != sq >= 0) {
        double share = sp / (sp - sq);
        kept.add(new double[] {p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])});
      }
    }
    return kept;
  }

  private static boolean isWithin(List<double[]> polygon, double[] a, double[] b, double sign) {
    for (double[] p : polygon) {
      if (sign * side(a, b, p) < 0) {
        return false;
      }
    }
    return true;
  }

  private static double side(double[] a, double[] b, double[] p) {
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  }

  private static double area(List<double[]> polygon) {
    double sum = 0;
    for (int i = 0; i < polygon.size(); i++) {
      double[] a = polygon.get(i);
      double[] b = polygon.get((i + 1) % polygon.size());
      sum += a[0] * b[1] - b[0] * a[1];
    }
    return sum / 2;
  }
}

package ferrule.drawing.label;

/**
 * The straight line from a point of the picture to the port of its label.
 *
 * @param site the point that is labelled
 * @param port where the label stands
 */
public record Leader(Point site, Port port) {

  /** Its length in picture units. */
  public double length() {
    return site.distanceTo(port.at());
  }

  /** Whether the two lines have a point in common, be it only an end. */
  public boolean meets(Leader other) {
    Point a = site;
    Point b = port.at();
    Point c = other.site;
    Point d = other.port.at();
    double abc = turn(a, b, c);
    double abd = turn(a, b, d);
    double cda = turn(c, d, a);
    double cdb = turn(c, d, b);
    if (abc == 0 && abd == 0) {
      return overlap(a.x(), b.x(), c.x(), d.x()) && overlap(a.y(), b.y(), c.y(), d.y());
    }
    return abc * abd <= 0 && cda * cdb <= 0;
  }

  // the sign says on which side of the line a-b the point c lies; 0 on it
  private static double turn(Point a, Point b, Point c) {
    return Math.signum((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()));
  }

  private static boolean overlap(double a, double b, double c, double d) {
    return Math.max(Math.min(a, b), Math.min(c, d)) <= Math.min(Math.max(a, b), Math.max(c, d));
  }
}

package ferrule.drawing;

/**
 * Writes the data of SVG paths shortly: tenths of a px as whole numbers, relative to the point before, without the
 * points that lie where the line would go anyway.
 */
final class PathData {

  /** Units of the path data for each px of the picture. */
  static final int UNITS = 10;

  /** Points lie on a grid of so many units: 0.2 px, less than a hundredth of an inch at any size of print. */
  private static final int GRID = 2;

  /** How far, in units, a point may lie from the line that replaces it. */
  private final double tolerance;

  private final StringBuilder out = new StringBuilder();
  private int lastX;
  private int lastY;
  private int startX;
  private int startY;
  private int heldX;
  private int heldY;
  private boolean held;
  private boolean drawing;

  /**
   * Empty path data.
   *
   * @param tolerance how far in px a point may lie from the line that replaces it
   */
  PathData(double tolerance) {
    this.tolerance = tolerance * UNITS;
  }

  /** Lifts the pen and sets it down at a point. */
  PathData move(double x, double y) {
    flush();
    int nx = round(x);
    int ny = round(y);
    if (out.length() == 0) {
      out.append('M').append(nx);
      number(ny);
    } else {
      out.append('m').append(nx - lastX);
      number(ny - lastY);
    }
    lastX = nx;
    lastY = ny;
    startX = nx;
    startY = ny;
    drawing = false;
    return this;
  }

  /** Draws to a point. */
  PathData line(double x, double y) {
    int nx = round(x);
    int ny = round(y);
    if (!held) {
      hold(nx, ny);
      return this;
    }
    long cross = (long) (heldX - lastX) * (ny - lastY) - (long) (heldY - lastY) * (nx - lastX);
    long dot = (long) (heldX - lastX) * (nx - heldX) + (long) (heldY - lastY) * (ny - heldY);
    double reach = Math.hypot(nx - lastX, ny - lastY);
    if (dot >= 0 && Math.abs(cross) <= tolerance * reach) {
      heldX = nx;
      heldY = ny;
    } else {
      flush();
      hold(nx, ny);
    }
    return this;
  }

  private void hold(int x, int y) {
    if (x != lastX || y != lastY) {
      heldX = x;
      heldY = y;
      held = true;
    }
  }

  private void flush() {
    if (held) {
      out.append(drawing ? "" : "l");
      if (drawing) {
        number(heldX - lastX);
      } else {
        out.append(heldX - lastX);
      }
      number(heldY - lastY);
      lastX = heldX;
      lastY = heldY;
      held = false;
      drawing = true;
    }
  }

  /** Closes the outline. */
  PathData close() {
    flush();
    out.append('z');
    lastX = startX;
    lastY = startY;
    drawing = false;
    return this;
  }

  /** Whether nothing has been drawn. */
  boolean isEmpty() {
    return out.length() == 0;
  }

  private static int round(double v) {
    return GRID * (int) Math.round(v * UNITS / (double) GRID);
  }

  private void number(int v) {
    if (v >= 0) {
      out.append(' ');
    }
    out.append(v);
  }

  @Override
  public String toString() {
    flush();
    return out.toString();
  }
}

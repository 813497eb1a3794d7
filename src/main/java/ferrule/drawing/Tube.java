package ferrule.drawing;

import java.util.List;

/**
 * A {@link Sweep} as it lies on the picture. A point of its surface is given by a station and an angle: 0 degrees is
 * the line nearest to the viewer, and 90 degrees to either side lie the outlines.
 *
 * <p>With the axis' direction t, let d be its direction on the picture, n square to d on the picture, and w the
 * direction square to t that leans most toward the viewer. The surface point at angle a is
 * {@code c + r (sin a n + cos a w)}, and its normal {@code sin a n + cos a w}: for a round tube this is exact from
 * every side.
 */
final class Tube {

  /** Where the light comes from: over the viewer's left shoulder. */
  static final Vec LIGHT = new Vec(-0.36, -0.60, 0.715).unit();

  final int size;
  final double[] x;
  final double[] y;
  final double[] z;
  final double[] r;
  /** The axis on the picture, of length 1. */
  final double[] dx;
  final double[] dy;
  /** How much the axis leans toward the viewer: the sine of the angle. */
  final double[] lean;
  /** How much of the axis lies in the picture: the cosine of the angle. */
  final double[] flat;
  /** The angle of the brightest line of the surface, in radians. */
  final double[] bright;
  /** How much of the light falls square to the axis, so that it can show on the surface; from 0 to 1. */
  final double[] power;
  final boolean[] crease;

  Tube(Sweep sweep, Projection projection) {
    List<Station> stations = sweep.stations();
    size = stations.size();
    x = new double[size];
    y = new double[size];
    z = new double[size];
    r = new double[size];
    dx = new double[size];
    dy = new double[size];
    lean = new double[size];
    flat = new double[size];
    bright = new double[size];
    power = new double[size];
    crease = new boolean[size];
    for (int i = 0; i < size; i++) {
      place(i, stations.get(i), projection);
    }
    giveEndOnStationsADirection();
    for (int i = 0; i < size; i++) {
      light(i);
    }
  }

  private Tube(Tube o) {
    size = o.size;
    x = o.x;
    y = o.y;
    z = o.z;
    r = o.r;
    lean = o.lean;
    flat = o.flat;
    crease = o.crease;
    dx = o.dx.clone();
    dy = o.dy.clone();
    bright = o.bright.clone();
    power = o.power.clone();
  }

  /**
   * The tube as a stretch of it is painted. Where a bend points at the viewer its direction on the picture turns round;
   * there a stretch has the direction of its own side.
   */
  Tube within(int from, int to) {
    boolean atStart = turnsRound(from, from + 1);
    boolean atEnd = turnsRound(to, to - 1);
    if (!atStart && !atEnd) {
      return this;
    }
    Tube own = new Tube(this);
    if (atStart) {
      own.takeDirection(from, from + 1);
    }
    if (atEnd) {
      own.takeDirection(to, to - 1);
    }
    return own;
  }

  private boolean turnsRound(int i, int inside) {
    return flat[i] < 0.3 && dx[i] * dx[inside] + dy[i] * dy[inside] < 0.2;
  }

  private void takeDirection(int i, int from) {
    dx[i] = dx[from];
    dy[i] = dy[from];
    bright[i] = bright[from];
    power[i] = power[from];
  }

  private void place(int i, Station s, Projection projection) {
    Vec p = projection.point(s.at());
    Vec t = projection.direction(s.along());
    x[i] = p.x();
    y[i] = p.y();
    z[i] = p.z();
    r[i] = s.radius() * projection.scale();
    lean[i] = Math.max(-1, Math.min(1, t.z()));
    flat[i] = Math.hypot(t.x(), t.y());
    crease[i] = s.crease();
    if (flat[i] > 1e-6) {
      dx[i] = t.x() / flat[i];
      dy[i] = t.y() / flat[i];
    }
  }

  /** A station whose axis points at the viewer has no direction on the picture; it takes a neighbour's. */
  private void giveEndOnStationsADirection() {
    for (int i = 0; i < size; i++) {
      if (flat[i] <= 1e-6) {
        int from = nearestWithDirection(i);
        dx[i] = from < 0 ? 1 : dx[from];
        dy[i] = from < 0 ? 0 : dy[from];
      }
    }
  }

  private int nearestWithDirection(int i) {
    for (int k = 1; k < size; k++) {
      if (i - k >= 0 && flat[i - k] > 1e-6) {
        return i - k;
      }
      if (i + k < size && flat[i + k] > 1e-6) {
        return i + k;
      }
    }
    return -1;
  }

  private void light(int i) {
    double toSide = LIGHT.x() * -dy[i] + LIGHT.y() * dx[i];
    double toFront = -lean[i] * (LIGHT.x() * dx[i] + LIGHT.y() * dy[i]) + LIGHT.z() * flat[i];
    bright[i] = Math.atan2(toSide, toFront);
    power[i] = Math.min(1, 0.45 + 0.8 * Math.hypot(toSide, toFront));
  }

  /** The x of the surface at a station and an angle. */
  double px(int i, double sin, double cos, double radius) {
    return x[i] + radius * (-sin * dy[i] - cos * lean[i] * dx[i]);
  }

  /** The y of the surface at a station and an angle. */
  double py(int i, double sin, double cos, double radius) {
    return y[i] + radius * (sin * dx[i] - cos * lean[i] * dy[i]);
  }

  /** The depth of the surface at a station and an angle, larger when nearer to the viewer. */
  double pz(int i, double cos, double radius) {
    return z[i] + radius * cos * flat[i];
  }
}

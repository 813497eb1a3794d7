package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;

/**
 * Puts stations between those of a sweep, so that bends and turned curves look round at the scale of a picture.
 *
 * <p>Along a bend the middle line is a cubic Hermite curve through the stations with their directions, which keeps to a
 * circle within a thousandth of its radius for the angles between stations. Of a turned profile the radius is a
 * monotone cubic (Fritsch and Carlson 1980; the slopes of Fritsch and Butland 1984), so that nothing bulges where the
 * profile is straight; corners that are creases stay corners.
 */
final class Rounding {

  /** How far in px the straight line between two stations may lie from the curve. */
  private static final double SAGITTA_PX = 0.14;
  private static final double LEAST_SCALE = 5.5;
  private static final int MOST_PARTS = 7;

  private final List<Station> own;
  private final double scale;

  private Rounding(List<Station> own, double scale) {
    this.own = own;
    this.scale = scale;
  }

  /**
   * The sweep with as many stations as the scale asks for; at small scales those of the model are enough.
   *
   * @param scale px of the picture for each mm
   */
  static Sweep of(Sweep sweep, double scale) {
    if (sweep.mouth().isPresent() || scale < LEAST_SCALE) {
      return sweep;
    }
    Rounding rounding = new Rounding(sweep.stations(), scale);
    List<Station> stations = sweep.turned() ? rounding.turned() : rounding.bent();
    return stations.size() == sweep.stations().size() ? sweep : sweep.with(stations);
  }

  private static int parts(double sagittaPx) {
    return (int) Math.max(1, Math.min(MOST_PARTS, Math.ceil(Math.sqrt(sagittaPx / SAGITTA_PX))));
  }

  private List<Station> bent() {
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < own.size(); i++) {
      stations.add(own.get(i));
      if (i + 1 < own.size()) {
        addAlongBend(own.get(i), own.get(i + 1), stations);
      }
    }
    return stations;
  }

  private void addAlongBend(Station a, Station b, List<Station> stations) {
    double angle = Math.acos(Math.max(-1, Math.min(1, a.along().dot(b.along()))));
    if (angle < 1e-3 || angle > Math.PI / 3) {
      return;
    }
    double chord = a.at().distance(b.at());
    double bend = chord / (2 * Math.sin(angle / 2));
    double outside = bend + Math.max(a.radius(), b.radius());
    int parts = parts(outside * (1 - Math.cos(angle / 2)) * scale);
    double reach = 4 * Math.tan(angle / 4) * bend;
    for (int k = 1; k < parts; k++) {
      double t = (double) k / parts;
      double u = 1 - t;
      Vec at = a.at().times(u * u * (1 + 2 * t)).plus(b.at().times(t * t * (3 - 2 * t)))
          .plus(a.along().times(reach * t * u * u)).minus(b.along().times(reach * t * t * u));
      Vec along = b.at().minus(a.at()).times(6 * t * u)
          .plus(a.along().times(reach * u * (1 - 3 * t))).plus(b.along().times(reach * t * (3 * t - 2))).unit();
      stations.add(new Station(at, along, a.radius() * u + b.radius() * t, false));
    }
  }

  private List<Station> turned() {
    int n = own.size();
    double[] run = new double[n - 1];
    double[] slope = new double[n - 1];
    for (int i = 0; i + 1 < n; i++) {
      run[i] = own.get(i).at().distance(own.get(i + 1).at());
      slope[i] = run[i] < 1e-9 ? 0 : (own.get(i + 1).radius() - own.get(i).radius()) / run[i];
    }
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      stations.add(own.get(i));
      if (i + 1 < n && run[i] > 1e-9) {
        addAlongProfile(i, run[i], slope[i], before(i, run, slope), after(i, run, slope), stations);
      }
    }
    return stations;
  }

  /** The slope at the start of a stretch. */
  private double before(int i, double[] run, double[] slope) {
    boolean corner = i == 0 || own.get(i).crease() || run[i - 1] < 1e-9;
    return corner ? slope[i] : mean(slope[i - 1], slope[i], run[i - 1], run[i]);
  }

  /** The slope at the end of a stretch. */
  private double after(int i, double[] run, double[] slope) {
    boolean corner = i + 1 == run.length || own.get(i + 1).crease() || run[i + 1] < 1e-9;
    return corner ? slope[i] : mean(slope[i], slope[i + 1], run[i], run[i + 1]);
  }

  /** The weighted harmonic mean; 0 at a top or a bottom. */
  private static double mean(double a, double b, double runA, double runB) {
    if (a * b <= 0) {
      return 0;
    }
    double wa = 2 * runB + runA;
    double wb = runB + 2 * runA;
    return (wa + wb) / (wa / a + wb / b);
  }

  private void addAlongProfile(int i, double run, double slope, double before, double after, List<Station> stations) {
    Station a = own.get(i);
    Station b = own.get(i + 1);
    double bow = run * Math.max(Math.abs(before - slope), Math.abs(after - slope)) / 4;
    int parts = parts(bow / Math.hypot(1, slope) * scale);
    for (int k = 1; k < parts; k++) {
      double t = (double) k / parts;
      double u = 1 - t;
      double radius = a.radius() * u * u * (1 + 2 * t) + b.radius() * t * t * (3 - 2 * t)
          + run * (before * t * u * u - after * t * t * u);
      stations.add(new Station(a.at().times(u).plus(b.at().times(t)), a.along(), Math.max(0, radius), false));
    }
  }
}

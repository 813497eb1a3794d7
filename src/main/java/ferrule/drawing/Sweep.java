package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * What discs cover when they travel along an axis: tubes, bends, wires, springs, rings, and all that a lathe turns.
 *
 * @param stations the discs in order, at least two
 * @param turned whether it is a turned body: straight axis, with shoulders that show as rings
 * @param startBore the radius of the opening at the first station in mm; 0 if it is closed
 * @param endBore the radius of the opening at the last station in mm; 0 if it is closed
 * @param closed whether the last station meets the first again, as in a ring
 * @param mouth for a stretch of a bell, through which one sees the inside: the stations from its last one on to the
 *     rim; absent for everything else, whose openings are dark
 */
public record Sweep(
    List<Station> stations,
    boolean turned,
    double startBore,
    double endBore,
    boolean closed,
    Optional<List<Station>> mouth)
    implements Solid {

  private static final double BEND_ERROR = 0.04;
  private static final double WIDEST_STEP = Math.toRadians(9);
  private static final double LONGEST_STRETCH = 26;
  private static final double CREASE_ANGLE = Math.toRadians(28);

  /** Copies the list and checks its length. */
  public Sweep {
    stations = List.copyOf(stations);
    mouth = mouth.map(List::copyOf);
    if (stations.size() < 2) {
      throw new IllegalArgumentException("a sweep needs at least two stations");
    }
  }

  /** How wide a tube is, given how far along it one is. */
  @FunctionalInterface
  public interface Width {
    /** The outer radius in mm at this distance from the start, in mm. */
    double radius(double mm);
  }

  /**
   * A tube or a wire along a course.
   *
   * @param wall the thickness of the wall in mm; 0 for a solid wire
   * @param step the longest straight stretch without a station in mm, for tubes whose width changes
   */
  public static Sweep tube(Course course, Width width, double wall, double step) {
    return tube(course, width, wall, step, 0);
  }

  /** The same with bends divided no finer than into these angles, in radians. */
  static Sweep tube(Course course, Width width, double wall, double step, double coarse) {
    List<Station> stations = new ArrayList<>();
    double done = 0;
    for (Course.Run run : course.runs()) {
      int parts = parts(run, step, coarse);
      for (int i = stations.isEmpty() ? 0 : 1; i <= parts; i++) {
        double share = (double) i / parts;
        double radius = width.radius(done + run.length() * share);
        stations.add(new Station(run.at(share), run.along(share), radius, false));
      }
      done += run.length();
    }
    boolean closed = course.start().distance(course.end()) < 1e-6;
    double startBore = closed || wall == 0 ? 0 : stations.get(0).radius() - wall;
    double endBore = closed || wall == 0 ? 0 : stations.get(stations.size() - 1).radius() - wall;
    return new Sweep(stations, isCone(course, stations), startBore, endBore, closed, Optional.empty());
  }

  private static int parts(Course.Run run, double step, double coarse) {
    if (run instanceof Course.Bend bend) {
      return Math.max(2, (int) Math.ceil(bend.angle() / Math.max(coarse, bendStep(bend))));
    }
    return Math.max(1, (int) Math.ceil(run.length() / step - 1e-9));
  }

  private static boolean isCone(Course course, List<Station> stations) {
    return course.runs().size() == 1 && course.runs().get(0) instanceof Course.Straight
        && stations.get(0).radius() != stations.get(stations.size() - 1).radius();
  }

  /** Fine enough that the chords of the middle line stay within a few hundredths of a mm of the circle. */
  private static double bendStep(Course.Bend bend) {
    double step = 2 * Math.acos(1 - BEND_ERROR / Math.max(1, bend.spoke().length()));
    return Math.min(bend.rise() == 0 ? WIDEST_STEP : 2 * WIDEST_STEP, step);
  }

  /**
   * A body turned on a lathe.
   *
   * @param at where distance 0 of the profile lies
   * @param along the direction of the axis
   * @param profile pairs of distance along the axis and radius, in mm, the distances never falling
   * @param startBore the radius of the opening at the first point, 0 if closed
   * @param endBore the radius of the opening at the last point, 0 if closed
   * @param smooth whether the profile is a curve through its points; otherwise only its blunt corners are rounded
   */
  public static Sweep turned(
      Vec at, Vec along, List<double[]> profile, double startBore, double endBore, boolean smooth) {
    Vec axis = along.unit();
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < profile.size(); i++) {
      double[] p = profile.get(i);
      if (i > 0 && p[0] < profile.get(i - 1)[0]) {
        throw new IllegalArgumentException("distances of a profile never fall; " + p[0] + " comes after "
            + profile.get(i - 1)[0]);
      }
      addBetween(stations, at, axis, i == 0 ? p : profile.get(i - 1), p);
      stations.add(new Station(at.plus(axis.times(p[0])), axis, p[1], creased(profile, i, smooth)));
    }
    return new Sweep(stations, true, startBore, endBore, false, Optional.empty());
  }

  /** Long stretches get stations between, so that they can be divided there. */
  private static void addBetween(List<Station> stations, Vec at, Vec axis, double[] a, double[] b) {
    int parts = (int) Math.ceil((b[0] - a[0]) / LONGEST_STRETCH);
    for (int k = 1; k < parts; k++) {
      double share = (double) k / parts;
      double s = a[0] + (b[0] - a[0]) * share;
      stations.add(new Station(at.plus(axis.times(s)), axis, a[1] + (b[1] - a[1]) * share, false));
    }
  }

  /**
   * A stretch of a bell's flare, open to the front.
   *
   * @param rim the middle of the rim
   * @param along the direction of the axis, out of the bell
   * @param from how far before the rim the stretch begins, in mm
   * @param to how far before the rim it ends, in mm
   * @param flare the outer radius by the distance before the rim
   * @param wall the thickness of the wall in mm
   */
  public static Sweep bell(Vec rim, Vec along, double from, double to, Width flare, double wall) {
    Vec axis = along.unit();
    List<Station> own = bellStations(rim, axis, from, to, flare);
    List<Station> rest = bellStations(rim, axis, to, 0, flare);
    return new Sweep(own, true, own.get(0).radius() - wall, own.get(own.size() - 1).radius() - wall, false,
        Optional.of(rest));
  }

  /** Closer together toward the rim, where the flare opens fast. */
  private static List<Station> bellStations(Vec rim, Vec axis, double from, double to, Width flare) {
    int n = Math.max(1, (int) Math.ceil((Math.sqrt(from) - Math.sqrt(to)) / 0.45));
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i <= n; i++) {
      double root = Math.sqrt(from) + (Math.sqrt(to) - Math.sqrt(from)) * i / n;
      double before = root * root;
      stations.add(new Station(rim.minus(axis.times(before)), axis, flare.radius(before), false));
    }
    return stations;
  }

  private static boolean creased(List<double[]> profile, int i, boolean smooth) {
    if (i == 0 || i == profile.size() - 1) {
      return true;
    }
    if (smooth) {
      return false;
    }
    double[] a = profile.get(i - 1);
    double[] b = profile.get(i);
    double[] c = profile.get(i + 1);
    double before = Math.atan2(b[1] - a[1], b[0] - a[0]);
    double after = Math.atan2(c[1] - b[1], c[0] - b[0]);
    return Math.abs(after - before) > CREASE_ANGLE;
  }

  @Override
  public Sweep in(Frame frame) {
    return with(s -> s.in(frame));
  }

  @Override
  public Sweep moved(Vec by) {
    return with(s -> s.moved(by));
  }

  /** The same sweep with other stations. */
  Sweep with(List<Station> others) {
    return new Sweep(others, turned, startBore, endBore, closed, mouth);
  }

  private Sweep with(UnaryOperator<Station> change) {
    return new Sweep(
        stations.stream().map(change).toList(),
        turned,
        startBore,
        endBore,
        closed,
        mouth.map(m -> m.stream().map(change).toList()));
  }
}

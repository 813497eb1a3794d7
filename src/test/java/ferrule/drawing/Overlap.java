package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;

/**
 * How deep two solids of the model lie in one another, by points on the surface of each: a point every 2 mm along and
 * twelve around a round body, one every mm of a flat one.
 */
final class Overlap {

  private static final double APART_MM = 1;
  private static final double EVERYWHERE = 1e9;
  /** A direction in which no edge of the model runs, for counting the faces between a point and the outside. */
  private static final Vec OUT = new Vec(0.5377, 0.3189, 0.7805).unit();

  private Overlap() {}

  /** The depth in mm; 0 if they do not overlap. */
  static double of(Solid a, Solid b) {
    double[] boxA = box(a);
    double[] boxB = box(b);
    for (int i = 0; i < 3; i++) {
      if (boxA[i] > boxB[i + 3] || boxB[i] > boxA[i + 3]) {
        return 0;
      }
    }
    return Math.max(depthIn(near(skin(a), boxB), b), depthIn(near(skin(b), boxA), a));
  }

  private static List<Skin> near(List<Skin> points, double[] box) {
    return points.stream()
        .filter(p -> p.at.x() >= box[0] && p.at.x() <= box[3] && p.at.y() >= box[1] && p.at.y() <= box[4]
            && p.at.z() >= box[2] && p.at.z() <= box[5])
        .toList();
  }

  private static double[] box(Solid solid) {
    double[] box = {1e9, 1e9, 1e9, -1e9, -1e9, -1e9};
    if (solid instanceof Sweep sweep) {
      sweep.stations().forEach(s -> widen(box, s.at(), s.radius()));
    } else {
      ((Facets) solid).coarse().forEach(f -> f.corners().forEach(c -> widen(box, c, 0)));
    }
    return box;
  }

  private static void widen(double[] box, Vec p, double by) {
    double[] at = {p.x(), p.y(), p.z()};
    for (int i = 0; i < 3; i++) {
      box[i] = Math.min(box[i], at[i] - by);
      box[i + 3] = Math.max(box[i + 3], at[i] + by);
    }
  }

  /** A point of a body's surface, with the axis that it goes round. */
  private record Skin(Vec at, Vec middle, Vec axis, double radius) {}

  private static List<Skin> skin(Solid solid) {
    return solid instanceof Sweep sweep ? skin(sweep) : skin((Facets) solid);
  }

  private static double depthIn(List<Skin> points, Solid body) {
    if (body instanceof Sweep sweep && areInTheBore(points, sweep)) {
      return 0;
    }
    return body instanceof Sweep sweep ? depthIn(points, sweep) : depthIn(points, (Facets) body);
  }

  private static List<Skin> skin(Sweep sweep) {
    List<Skin> points = new ArrayList<>();
    for (int i = 0; i + 1 < sweep.stations().size(); i++) {
      Station a = sweep.stations().get(i);
      Station b = sweep.stations().get(i + 1);
      int parts = Math.max(1, (int) Math.ceil(a.at().distance(b.at()) / 2));
      Vec side = a.along().anyNormal();
      for (int k = 0; k <= parts; k++) {
        double share = (double) k / parts;
        Vec middle = a.at().times(1 - share).plus(b.at().times(share));
        double radius = a.radius() * (1 - share) + b.radius() * share;
        for (int n = 0; n < 12; n++) {
          Vec out = side.turned(a.along(), Math.PI * n / 6).times(radius);
          points.add(new Skin(middle.plus(out), middle, a.along(), radius));
        }
      }
    }
    return points;
  }

  /** How deep points of one body lie in another; a tube within the bore of a tube on the same axis lies in no metal. */
  private static double depthIn(List<Skin> points, Sweep body) {
    double worst = 0;
    for (int i = 0; i + 1 < body.stations().size(); i++) {
      Station a = body.stations().get(i);
      Station b = body.stations().get(i + 1);
      double length = a.at().distance(b.at());
      if (length < 1e-6) {
        continue;
      }
      Vec axis = b.at().minus(a.at()).times(1 / length);
      for (Skin p : points) {
        double along = p.at.minus(a.at()).dot(axis);
        double radius = a.radius() + (b.radius() - a.radius()) * along / length;
        if (along > 0.05 && along < length - 0.05) {
          double aside = p.at.minus(a.at()).minus(axis.times(along)).length();
          boolean onItsAxis = Math.abs(p.axis.dot(axis)) > 0.99
              && p.middle.minus(a.at()).minus(axis.times(p.middle.minus(a.at()).dot(axis))).length() < 0.1;
          boolean inBore = onItsAxis && Math.min(body.startBore(), body.endBore()) >= p.radius - 1e-6;
          if (!inBore) {
            worst = Math.max(worst, Math.min(radius - aside, p.radius));
          }
        }
      }
    }
    return worst;
  }

  /** Whether a straight hollow body holds all these points in its hollow, so that none of them comes near its wall. */
  private static boolean areInTheBore(List<Skin> points, Sweep body) {
    Station first = body.stations().get(0);
    Station last = body.stations().get(body.stations().size() - 1);
    double bore = Math.min(body.startBore(), body.endBore());
    boolean straight = body.stations().stream().allMatch(s -> s.along().dot(first.along()) > 1 - 1e-9);
    return straight && bore > 0 && points.stream().allMatch(p -> {
      Vec off = p.at.minus(first.at());
      double along = off.dot(first.along());
      boolean beyond = along < 0 || along > last.at().distance(first.at());
      return beyond || off.minus(first.along().times(along)).length() < bore;
    });
  }

  /** Points of a flat body's faces; none of them goes round an axis. */
  private static List<Skin> skin(Facets body) {
    List<Skin> points = new ArrayList<>();
    for (Facets.Face face : body.coarse()) {
      for (Vec[] t : triangles(face)) {
        int n = (int) Math.max(2, Math.ceil(Math.max(t[0].distance(t[1]),
            Math.max(t[1].distance(t[2]), t[2].distance(t[0]))) / APART_MM));
        for (int i = 0; i <= n; i++) {
          for (int k = 0; i + k <= n; k++) {
            Vec p = t[0].times((double) i / n).plus(t[1].times((double) k / n))
                .plus(t[2].times((double) (n - i - k) / n));
            points.add(new Skin(p, p, new Vec(0, 0, 0), EVERYWHERE));
          }
        }
      }
    }
    return points;
  }

  private static List<Vec[]> triangles(Facets.Face face) {
    Vec across = face.corners().get(1).minus(face.corners().get(0)).unit();
    Frame plane = new Frame(new Vec(0, 0, 0), across, face.outward().cross(across), face.outward());
    List<Vec> flat = face.corners().stream()
        .map(c -> new Vec(c.dot(plane.x()), c.dot(plane.y()), c.dot(plane.z())))
        .toList();
    return Ears.cut(flat).stream()
        .map(t -> new Vec[] {face.corners().get(t[0]), face.corners().get(t[1]), face.corners().get(t[2])})
        .toList();
  }

  private static double depthIn(List<Skin> points, Facets body) {
    List<Vec[]> triangles = body.coarse().stream().flatMap(f -> triangles(f).stream()).toList();
    double worst = 0;
    for (Skin p : points) {
      if (isWithin(p.at, triangles)) {
        worst = Math.max(worst, triangles.stream().mapToDouble(t -> distance(p.at, t)).min().orElse(0));
      }
    }
    return worst;
  }

  /** Whether a ray out of the point leaves the body once more often than it enters it. */
  private static boolean isWithin(Vec p, List<Vec[]> triangles) {
    int crossed = 0;
    for (Vec[] t : triangles) {
      Vec e1 = t[1].minus(t[0]);
      Vec e2 = t[2].minus(t[0]);
      Vec h = OUT.cross(e2);
      double det = e1.dot(h);
      if (Math.abs(det) < 1e-12) {
        continue;
      }
      Vec s = p.minus(t[0]);
      double u = s.dot(h) / det;
      Vec q = s.cross(e1);
      double v = OUT.dot(q) / det;
      if (u >= 0 && v >= 0 && u + v <= 1 && e2.dot(q) / det > 0) {
        crossed++;
      }
    }
    return crossed % 2 == 1;
  }

  /** From a point to a triangle. */
  private static double distance(Vec p, Vec[] t) {
    Vec normal = t[1].minus(t[0]).cross(t[2].minus(t[0])).unit();
    Vec foot = p.minus(normal.times(p.minus(t[0]).dot(normal)));
    boolean inside = true;
    double edge = Double.MAX_VALUE;
    for (int i = 0; i < 3; i++) {
      Vec a = t[i];
      Vec way = t[(i + 1) % 3].minus(a);
      inside &= normal.dot(way.cross(foot.minus(a))) >= 0;
      double share = Math.max(0, Math.min(1, p.minus(a).dot(way) / way.dot(way)));
      edge = Math.min(edge, p.distance(a.plus(way.times(share))));
    }
    return inside ? p.distance(foot) : edge;
  }
}

package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;

/**
 * The middle line of a tube, wire or strip: straight runs and circular bends that follow one another, with the same
 * tangent unless a corner is asked for, so that neighbouring runs always meet. Example: from a point, ahead 40 mm, then a half circle of radius
 * 32 mm downward, then ahead 60 mm.
 */
public final class Course {

  /** A straight run or a bend. */
  public sealed interface Run permits Straight, Bend {
    /** The length along the middle line, in mm. */
    double length();

    /** The point at this share of the run, from 0 to 1. */
    Vec at(double share);

    /** The direction at this share of the run, of length 1. */
    Vec along(double share);
  }

  /** A straight run. */
  public record Straight(Vec from, Vec heading, double length) implements Run {
    @Override
    public Vec at(double share) {
      return from.plus(heading.times(length * share));
    }

    @Override
    public Vec along(double share) {
      return heading;
    }
  }

  /**
   * A circular bend.
   *
   * @param centre the middle of the circle
   * @param spoke from the centre to the start, as long as the radius
   * @param axis the axis that it turns about, of length 1
   * @param angle the angle in radians, more than 0
   * @param rise how far it climbs along its axis on the way, in mm; 0 unless it is a helix
   */
  public record Bend(Vec centre, Vec spoke, Vec axis, double angle, double rise) implements Run {
    @Override
    public double length() {
      return Math.hypot(spoke.length() * angle, rise);
    }

    @Override
    public Vec at(double share) {
      return centre.plus(spoke.turned(axis, angle * share)).plus(axis.times(rise * share));
    }

    @Override
    public Vec along(double share) {
      Vec around = axis.cross(spoke.turned(axis, angle * share)).times(angle);
      return around.plus(axis.times(rise)).unit();
    }
  }

  private final List<Run> runs;

  private Course(List<Run> runs) {
    this.runs = List.copyOf(runs);
  }

  /** Starts a course at a point in a direction. */
  public static Builder from(Vec point, Vec heading) {
    return new Builder(point, heading.unit());
  }

  /** The course that is one straight line. */
  public static Course line(Vec from, Vec to) {
    return from(from, to.minus(from)).ahead(from.distance(to)).build();
  }

  /** The runs in order, at least one. */
  public List<Run> runs() {
    return runs;
  }

  /** The length along the middle line, in mm. */
  public double length() {
    return runs.stream().mapToDouble(Run::length).sum();
  }

  /** Where it starts. */
  public Vec start() {
    return runs.get(0).at(0);
  }

  /** Where it ends. */
  public Vec end() {
    return runs.get(runs.size() - 1).at(1);
  }

  /** The direction at its end. */
  public Vec endHeading() {
    return runs.get(runs.size() - 1).along(1);
  }

  /**
   * The point this far along.
   *
   * @param mm from 0 to {@link #length()}; beyond, the end
   */
  public Vec at(double mm) {
    double rest = mm;
    for (Run run : runs) {
      if (rest <= run.length()) {
        return run.at(run.length() == 0 ? 0 : rest / run.length());
      }
      rest -= run.length();
    }
    return end();
  }

  /** The same course in the outer coordinates of a frame. */
  public Course in(Frame f) {
    List<Run> placed = new ArrayList<>();
    for (Run run : runs) {
      if (run instanceof Straight s) {
        placed.add(new Straight(f.point(s.from()), f.direction(s.heading()), s.length()));
      } else if (run instanceof Bend b) {
        placed.add(
            new Bend(f.point(b.centre()), f.direction(b.spoke()), f.direction(b.axis()), b.angle(), b.rise()));
      }
    }
    return new Course(placed);
  }

  /** Lays runs end to end. */
  public static final class Builder {
    private final List<Run> runs = new ArrayList<>();
    private Vec point;
    private Vec heading;

    private Builder(Vec point, Vec heading) {
      this.point = point;
      this.heading = heading;
    }

    /** Straight ahead; a length of 0 adds nothing. */
    public Builder ahead(double mm) {
      if (mm < 0) {
        throw new IllegalArgumentException("a run goes ahead at least 0 mm; given " + mm);
      }
      if (mm > 0) {
        add(new Straight(point, heading, mm));
      }
      return this;
    }

    /** A bend of this radius and angle in degrees toward a side; the side is made square to the heading. */
    public Builder bend(double radius, double degrees, Vec toward) {
      Vec side = toward.minus(heading.times(toward.dot(heading))).unit();
      Vec centre = point.plus(side.times(radius));
      add(new Bend(centre, side.times(-radius), heading.cross(side), Math.toRadians(degrees), 0));
      return this;
    }

    /** Straight to a point, with a corner if it does not lie ahead; for the way of the air through a piston. */
    public Builder to(Vec target) {
      Vec way = target.minus(point);
      if (way.length() > 1e-9) {
        heading = way.unit();
        add(new Straight(point, heading, way.length()));
      }
      return this;
    }

    /** A helix about an axis through a centre, starting at the present point; the heading follows it. */
    public Builder coil(Vec centre, Vec axis, double turns, double rise) {
      add(new Bend(centre, point.minus(centre), axis.unit(), turns * 2 * Math.PI, rise));
      return this;
    }

    private void add(Run run) {
      runs.add(run);
      point = run.at(1);
      heading = run.along(1);
    }

    /** The finished course. */
    public Course build() {
      if (runs.isEmpty()) {
        throw new IllegalArgumentException("a course needs at least one run");
      }
      return new Course(runs);
    }
  }
}

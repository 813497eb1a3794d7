package ferrule.drawing;

import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Reads numbers, points, courses and solids of a model file; numbers may be formulas of dimensions. */
final class SolidReader {

  private static final double STRAIGHT_STEP = 28;

  private final Dimensions dimensions;
  private final Map<String, String> local;
  private final Map<String, Double> known = new HashMap<>();
  private Frame frame;

  /**
   * A reader.
   *
   * @param local formulas that count before the dimensions
   * @param frame the frame that points are given in
   */
  SolidReader(Dimensions dimensions, Map<String, String> local, Frame frame) {
    this.dimensions = dimensions;
    this.local = local;
    this.frame = frame;
  }

  /** From here on points are in the frame that a node describes in the present one. */
  void enter(YamlNode node) {
    Vec at = point(node, "at");
    Vec x = node.has("x") ? point(node, "x") : new Vec(1, 0, 0);
    Vec y = node.has("y") ? point(node, "y") : new Vec(0, 1, 0);
    frame = Frame.of(frame.point(at), frame.direction(x), frame.direction(y));
  }

  double number(String formula) {
    return Expression.evaluate(formula, this::named);
  }

  private double named(String name) {
    if (!local.containsKey(name)) {
      return dimensions.get(name);
    }
    Double value = known.get(name);
    if (value == null) {
      value = number(local.get(name));
      known.put(name, value);
    }
    return value;
  }

  private double number(YamlNode node, String key) {
    return number(node.text(key));
  }

  private double number(YamlNode node, String key, double otherwise) {
    return node.has(key) ? number(node, key) : otherwise;
  }

  private double[] numbers(YamlNode list) {
    return list.items().stream().mapToDouble(n -> number(n.text())).toArray();
  }

  private Vec point(YamlNode node, String key) {
    return vec(node.get(key).orElseThrow(() -> new IllegalArgumentException("expected a key '" + key + "'")));
  }

  /** A point or a direction given by three formulas, in the present frame's coordinates. */
  Vec vec(YamlNode list) {
    double[] n = numbers(list);
    if (n.length != 3) {
      throw new IllegalArgumentException("expected three numbers, found " + n.length);
    }
    return new Vec(n[0], n[1], n[2]);
  }

  /** A course, in the instrument's coordinates. */
  Course course(YamlNode node) {
    Vec at = point(node, "at");
    Vec heading = node.has("heading") ? point(node, "heading") : new Vec(1, 0, 0);
    Course.Builder course = Course.from(at, heading);
    for (YamlNode step : node.list("course")) {
      addStep(course, step);
    }
    return course.build().in(frame);
  }

  private void addStep(Course.Builder course, YamlNode step) {
    step.get("ahead").ifPresent(n -> course.ahead(number(n.text())));
    step.get("to").ifPresent(n -> course.to(vec(n)));
    step.get("bend").ifPresent(n ->
        course.bend(number(n, "radius"), number(n, "angle"), point(n, "toward")));
    step.get("coil").ifPresent(n ->
        course.coil(point(n, "centre"), point(n, "axis"), number(n, "turns"), number(n, "rise")));
  }

  /** A solid, in the instrument's coordinates. */
  Solid solid(YamlNode node) {
    Map.Entry<String, YamlNode> entry = node.entries().entrySet().iterator().next();
    YamlNode body = entry.getValue();
    return switch (entry.getKey()) {
      case "tube" -> tube(body);
      case "turned" -> turned(body);
      case "strip" -> strip(body);
      case "plate" -> plate(body);
      case "hole" -> hole(body);
      case "bell" -> bell(body);
      default -> throw new IllegalArgumentException("expected a kind of solid, found '" + entry.getKey() + "'");
    };
  }

  private Sweep tube(YamlNode node) {
    Course course = course(node);
    double wall = number(node, "wall", 0);
    if (node.has("flare")) {
      double start = number(node, "flare");
      return Sweep.tube(course, mm -> flare(start - mm), wall, STRAIGHT_STEP);
    }
    YamlNode outer = node.get("outer").orElseThrow();
    double[] ends = outer.isScalar() ? new double[] {number(outer.text())} : numbers(outer);
    double from = ends[0] / 2;
    double to = ends[ends.length - 1] / 2;
    double length = course.length();
    return Sweep.tube(course, mm -> from + (to - from) * mm / length, wall, STRAIGHT_STEP);
  }

  /**
   * The outer radius of the bell this far before its rim: a Bessel horn, r = b (d + d0)^-g, as in the thesis of
   * A. Braden (Edinburgh 2006), fitted to the rim, the tail and an exponent chosen by eye.
   */
  private double flare(double beforeRim) {
    return dimensions.get("bellScale")
        * Math.pow(beforeRim + dimensions.get("bellOffset"), -dimensions.get("bellExponent"));
  }

  private Sweep bell(YamlNode node) {
    return Sweep.bell(
        frame.point(point(node, "rim")),
        frame.direction(point(node, "along")),
        number(node, "from"),
        number(node, "to"),
        this::flare,
        number(node, "wall"));
  }

  private Sweep turned(YamlNode node) {
    List<double[]> profile = new ArrayList<>();
    node.list("profile").forEach(p -> profile.add(numbers(p)));
    double bore = number(node, "bore", 0);
    return Sweep.turned(
        frame.point(point(node, "at")),
        frame.direction(point(node, "along")),
        profile,
        number(node, "startBore", bore),
        number(node, "endBore", bore),
        node.flag("smooth", false));
  }

  private Facets strip(YamlNode node) {
    YamlNode width = node.get("width").orElseThrow();
    double[] ends = width.isScalar() ? new double[] {number(width.text())} : numbers(width);
    return Facets.strip(
        course(node),
        frame.direction(point(node, "across")),
        new double[] {ends[0], ends[ends.length - 1]},
        number(node, "thickness"));
  }

  private Facets plate(YamlNode node) {
    List<double[]> outline = new ArrayList<>();
    node.list("outline").forEach(p -> outline.add(numbers(p)));
    Vec x = node.has("x") ? point(node, "x") : new Vec(1, 0, 0);
    Vec y = node.has("y") ? point(node, "y") : new Vec(0, 1, 0);
    Frame plane = Frame.of(frame.point(point(node, "at")), frame.direction(x), frame.direction(y));
    return Facets.plate(plane, outline, number(node, "thickness"));
  }

  private Facets hole(YamlNode node) {
    return Facets.hole(
        frame.point(point(node, "at")),
        frame.direction(point(node, "axis")),
        frame.direction(point(node, "toward")),
        number(node, "body"),
        number(node, "radius"));
  }
}

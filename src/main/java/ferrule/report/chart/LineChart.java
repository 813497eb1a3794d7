package ferrule.report.chart;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Lines over a common axis, each named where it ends: {@code new LineChart(says, weeks, shares, lines).html()}.
 *
 * @param says what the chart shows, in a sentence, for those who do not see it
 * @param across the lower axis
 * @param up the axis at the left
 * @param lines drawn in their order, the first on top
 */
public record LineChart(String says, Axis across, Axis up, List<Line> lines) {

  /**
   * A point, in the axes' units.
   *
   * @param low the lower end of a band about the line at this point; the same as {@code y} for none
   * @param high the upper end
   * @param marked whether a marker stands here
   */
  public record Point(double x, double y, double low, double high, boolean marked) {

    /** A point without a band. */
    public static Point of(double x, double y, boolean marked) {
      return new Point(x, y, y, y, marked);
    }
  }

  /**
   * A line.
   *
   * @param name what it is called; empty for a line that is alone
   * @param look how it is told from the others
   * @param points from left to right
   * @param stepped whether its value holds until the next point, and does not change steadily
   */
  public record Line(String name, Look look, List<Point> points, boolean stepped) {

    /** Copies the points. */
    public Line {
      points = List.copyOf(points);
    }

    private boolean isBanded() {
      return points.stream().anyMatch(p -> p.low() < p.high());
    }

    private double[] path(Frame frame) {
      List<Double> d = new ArrayList<>();
      for (int i = 0; i < points.size(); i++) {
        if (stepped && i > 0) {
          d.add(frame.x(points.get(i).x()));
          d.add(frame.y(points.get(i - 1).y()));
        }
        d.add(frame.x(points.get(i).x()));
        d.add(frame.y(points.get(i).y()));
      }
      return d.stream().mapToDouble(Double::doubleValue).toArray();
    }
  }

  private static final double APART = 17;

  /** Copies the lines; those without points are left out. */
  public LineChart {
    lines = lines.stream().filter(l -> !l.points().isEmpty()).toList();
  }

  /** Markup of the chart, drawn once for each width of screens, of which the stylesheet shows one. */
  public String html() {
    return svg(Frame.Size.FULL) + svg(Frame.Size.WIDE) + svg(Frame.Size.NARROW);
  }

  /** The chart as it stands on paper. */
  public String onPaper() {
    return svg(Frame.Size.PAPER);
  }

  private String svg(Frame.Size size) {
    boolean wide = size != Frame.Size.NARROW;
    double longest = lines.stream().mapToDouble(l -> Svg.width(l.name())).max().orElse(0);
    Frame frame = Frame.of(size, across, up, wide ? longest + 20 : 12);
    Svg svg = new Svg();
    frame.draw(svg);
    lines.stream().filter(Line::isBanded).forEach(l -> band(svg, frame, l));
    for (int i = lines.size() - 1; i >= 0; i--) {
      line(svg, frame, lines.get(i));
    }
    frame.drawAcross(svg);
    double height = frame.height();
    List<Line> named = lines.stream().filter(l -> !l.name().isEmpty()).toList();
    if (wide) {
      names(svg, frame, named);
    } else if (!named.isEmpty()) {
      svg.key(
          frame.left(), height + 10, named.stream().map(Line::name).toList(),
          named.stream().<Svg.Sample>map(l -> (x, y) -> sample(svg, l.look(), x, y)).toList());
      height += Svg.KEY_LINE * named.size() + 4;
    }
    return svg.drawn(size, height, says);
  }

  private static void band(Svg svg, Frame frame, Line line) {
    List<Double> above = new ArrayList<>();
    List<Double> below = new ArrayList<>();
    for (int i = 0; i < line.points().size(); i++) {
      Point p = line.points().get(i);
      if (line.stepped() && i > 0) {
        add(above, frame.x(p.x()), frame.y(line.points().get(i - 1).high()));
        add(below, frame.x(p.x()), frame.y(line.points().get(i - 1).low()));
      }
      add(above, frame.x(p.x()), frame.y(p.high()));
      add(below, frame.x(p.x()), frame.y(p.low()));
    }
    for (int i = below.size() - 2; i >= 0; i -= 2) {
      add(above, below.get(i), below.get(i + 1));
    }
    double[] outline = above.stream().mapToDouble(Double::doubleValue).toArray();
    svg.add("<path class=\"chart-band\" d=\"%sZ\" fill=\"#d5ddd7\"/>", Svg.line(outline));
  }

  private static void add(List<Double> path, double x, double y) {
    path.add(x);
    path.add(y);
  }

  private static void line(Svg svg, Frame frame, Line line) {
    stroke(svg, line.look(), Svg.line(line.path(frame)));
    line.points().stream().filter(Point::marked)
        .forEach(p -> line.look().mark(svg, frame.x(p.x()), frame.y(p.y())));
  }

  private static void stroke(Svg svg, Look look, String d) {
    svg.add(
        "<path class=\"chart-line\" d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%s\"%s stroke-linejoin=\"round\"/>", d,
        Svg.INK, look.width(), look.dash().isEmpty() ? "" : " stroke-dasharray=\"" + look.dash() + "\"");
  }

  private static void sample(Svg svg, Look look, double x, double y) {
    stroke(svg, look, Svg.line(x, y, x + 36, y));
    look.mark(svg, x + 18, y);
  }

  /** Names at the ends of the lines, moved apart where they would touch. */
  private static void names(Svg svg, Frame frame, List<Line> named) {
    for (Line line : named) {
      if (endsWithin(frame, line)) {
        svg.words(frame.x(last(line).x()) + 9, frame.y(last(line).y()) - 8, "start", true, line.name());
      }
    }
    List<Line> byHeight = named.stream().filter(l -> !endsWithin(frame, l))
        .sorted(Comparator.comparingDouble((Line l) -> frame.y(last(l).y()))).toList();
    double[] at = new double[byHeight.size()];
    for (int i = 0; i < at.length; i++) {
      double own = frame.y(last(byHeight.get(i)).y()) + 5;
      at[i] = i == 0 ? own : Math.max(own, at[i - 1] + APART);
    }
    double over = at.length == 0 ? 0 : Math.max(0, at[at.length - 1] - frame.bottom() - 3);
    for (int i = at.length - 1; i >= 0 && over > 0; i--) {
      at[i] = i == at.length - 1 ? at[i] - over : Math.min(at[i], at[i + 1] - APART);
    }
    for (int i = 0; i < at.length; i++) {
      Line line = byHeight.get(i);
      double end = frame.x(last(line).x());
      if (Math.abs(at[i] - 5 - frame.y(last(line).y())) > 2 || end < frame.right() - 2) {
        svg.rule(end + 6, frame.y(last(line).y()), frame.right() + 10, at[i] - 5, false);
      }
      svg.words(frame.right() + 13, at[i], "start", true, line.name());
    }
  }

  /** Whether there is room for a line's name in the plot, right of where it ends. */
  private static boolean endsWithin(Frame frame, Line line) {
    return frame.x(last(line).x()) + Svg.width(line.name()) + 20 < frame.right();
  }

  private static Point last(Line line) {
    return line.points().get(line.points().size() - 1);
  }
}

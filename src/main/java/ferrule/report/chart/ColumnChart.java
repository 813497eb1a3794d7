package ferrule.report.chart;

import java.util.List;
import java.util.function.IntFunction;
import java.util.stream.IntStream;

/**
 * Counts as columns, in one or two parts upon each other: the lower filled, the upper hollow.
 *
 * @param says what the chart shows, in a sentence, for those who do not see it
 * @param title of the lower axis
 * @param up the axis at the left
 * @param columns from left to right
 * @param words what stands below a column; empty for nothing
 * @param parts the names of the parts; with one there is no key
 */
public record ColumnChart(
    String says, String title, Axis up, List<Column> columns, IntFunction<String> words, List<String> parts) {

  /**
   * A column.
   *
   * @param filled its lower part
   * @param hollow what stands upon that
   */
  public record Column(double filled, double hollow) {}

  /** Copies the lists. */
  public ColumnChart {
    columns = List.copyOf(columns);
    parts = List.copyOf(parts);
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
    Axis across = new Axis(title, 0, Math.max(1, columns.size()), List.of(1.0), v -> "");
    Frame frame = Frame.of(size, across, up, 12);
    Svg svg = new Svg();
    frame.draw(svg);
    double room = (frame.right() - frame.left()) / Math.max(1, columns.size());
    double width = Math.min(44, 0.72 * room);
    double free = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < columns.size(); i++) {
      double middle = frame.left() + (i + 0.5) * room;
      column(svg, frame, columns.get(i), middle, width);
      String below = words.apply(i);
      double half = Svg.width(below) / 2;
      if (!below.isEmpty() && middle - half > free) {
        svg.rule(middle, frame.bottom(), middle, frame.bottom() + 5, true);
        svg.words(Math.min(middle, size.width() - half), frame.bottom() + 20, "middle", false, below);
        free = middle + half + 6;
      }
    }
    svg.words((frame.left() + frame.right()) / 2, frame.bottom() + 39, "middle", false, title);
    double height = frame.height();
    if (parts.size() > 1) {
      svg.key(frame.left(), height + 10, parts, IntStream.range(0, parts.size()).<Svg.Sample>mapToObj(
          p -> (x, y) -> box(svg, p == 0, x + 6, y - 7, 24, 14)).toList());
      height += Svg.KEY_LINE * parts.size() + 4;
    }
    return svg.drawn(size, height, says);
  }

  private static void column(Svg svg, Frame frame, Column c, double middle, double width) {
    double joint = frame.y(c.filled());
    double top = frame.y(c.filled() + c.hollow());
    if (c.filled() > 0) {
      box(svg, true, middle - width / 2, joint, width, frame.bottom() - joint);
    }
    if (c.hollow() > 0) {
      box(svg, false, middle - width / 2, top, width, joint - top);
    }
    String figure = Svg.number(c.filled() + c.hollow());
    if (c.filled() + c.hollow() > 0 && Svg.width(figure) <= width + 8) {
      svg.words(middle, top - 5, "middle", true, figure);
    }
  }

  private static void box(Svg svg, boolean filled, double x, double y, double width, double height) {
    svg.add("<rect class=\"%s\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"%s\" stroke=\"%s\" stroke-width=\"1.5\"/>",
        filled ? "chart-fill" : "chart-mark open", x, y, width, height, filled ? Svg.SOFT : "#fbfcfa", Svg.INK);
  }
}

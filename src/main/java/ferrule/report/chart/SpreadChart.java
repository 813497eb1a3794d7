package ferrule.report.chart;

import java.util.List;

/**
 * How values lie, row by row: a stroke from the lower to the upper quartile and a mark at the median.
 *
 * @param says what the chart shows, in a sentence, for those who do not see it
 * @param across the axis
 * @param rows from the top down
 */
public record SpreadChart(String says, Axis across, List<Row> rows) {

  /** A row: its name and the quartiles of its values. */
  public record Row(String name, double lower, double median, double upper) {}

  private static final double ROW = 34;

  /** Copies the rows. */
  public SpreadChart {
    rows = List.copyOf(rows);
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
    double names = wide ? 16 + rows.stream().mapToDouble(r -> Svg.width(r.name())).max().orElse(0) : 12;
    double row = wide ? ROW : ROW + 20;
    double bottom = 8 + row * rows.size();
    Axis rowsUp = new Axis("", 0, 1, List.of(1.0), v -> "");
    Frame frame = new Frame(size, across, rowsUp, names, size.width() - 24, 8, bottom);
    Svg svg = new Svg();
    frame.drawAcross(svg);
    svg.rule(names, bottom, size.width() - 24, bottom, true);
    for (int i = 0; i < rows.size(); i++) {
      Row r = rows.get(i);
      double y = 8 + row * (i + 1) - ROW / 2;
      svg.words(wide ? names - 12 : names, wide ? y + 5 : y - 14, wide ? "end" : "start", true, r.name());
      svg.rule(names, y, size.width() - 24, y, false);
      svg.add("<path class=\"chart-line\" d=\"%s\" stroke=\"%s\" stroke-width=\"7\" fill=\"none\"/>",
          Svg.line(frame.x(r.lower()), y, frame.x(r.upper()), y), Svg.SOFT);
      svg.path("chart-mark open", frame.x(r.median()) - 4, y - 9, frame.x(r.median()) + 4, y - 9, frame.x(r.median()) + 4, y + 9,
          frame.x(r.median()) - 4, y + 9);
    }
    return svg.drawn(size, bottom + 46, says);
  }
}

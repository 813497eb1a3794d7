package ferrule.report.chart;

/** How a line looks: by dash and marker, so that none needs a colour. In the order in which lines of a chart take them. */
public enum Look {
  /** Solid and heavy, with discs. */
  SOLID("", 3, 'o'),
  /** Dashed, with squares. */
  DASHED("9 5", 2.2, 's'),
  /** Dash and dot, with triangles. */
  DASH_DOT("11 4 2 4", 2.2, 't'),
  /** Short dashes, with diamonds. */
  SHORT("5 3", 2.2, 'd'),
  /** Long dashes, with crosses. */
  LONG("16 5", 2.2, 'x'),
  /** Dots without markers, for what is planned and not observed. */
  PLAN("2 5", 2.2, ' ');

  private final String dash;
  private final double width;
  private final char marker;

  Look(String dash, double width, char marker) {
    this.dash = dash;
    this.width = width;
    this.marker = marker;
  }

  /** The look of the n-th observed line, from 0; after the fifth they begin anew. */
  public static Look of(int number) {
    return values()[number % PLAN.ordinal()];
  }

  String dash() {
    return dash;
  }

  double width() {
    return width;
  }

  /** Adds the marker at a point. */
  void mark(Svg svg, double x, double y) {
    switch (marker) {
      case 'o' -> svg.add("<circle class=\"chart-mark\" cx=\"%s\" cy=\"%s\" r=\"4\" fill=\"#18201d\"/>", x, y);
      case 's' -> svg.path("chart-mark open", x - 4, y - 4, x + 4, y - 4, x + 4, y + 4, x - 4, y + 4);
      case 't' -> svg.path("chart-mark open", x, y - 5, x + 5, y + 4, x - 5, y + 4);
      case 'd' -> svg.path("chart-mark open", x, y - 5.5, x + 5.5, y, x, y + 5.5, x - 5.5, y);
      case 'x' -> svg.add(
          "<path class=\"chart-line\" d=\"M%s %sL%s %sM%s %sL%s %s\" stroke=\"#18201d\" stroke-width=\"2\" fill=\"none\"/>",
          x - 4, y - 4, x + 4, y + 4, x - 4, y + 4, x + 4, y - 4);
      default -> { }
    }
  }
}

package ferrule.report.chart;

import java.util.List;

/**
 * The room of a chart: where its plot lies, with both axes drawn.
 *
 * @param left edge of the plot, as the others in px
 */
record Frame(Size size, Axis across, Axis up, double left, double right, double top, double bottom) {

  /** The sizes in which a chart is drawn. */
  enum Size {
    FULL("full", 1120, 7, 20),
    WIDE("wide", 700, 7, 14),
    NARROW("narrow", 340, 5, 7),
    PAPER("wide", 630, 7, 12);

    private final String word;
    private final double width;
    private final int ticksUp;
    private final int ticksAcross;

    Size(String word, double width, int ticksUp, int ticksAcross) {
      this.word = word;
      this.width = width;
      this.ticksUp = ticksUp;
      this.ticksAcross = ticksAcross;
    }

    String word() {
      return word;
    }

    double width() {
      return width;
    }
  }

  private static final double PLOT = 230;
  private static final double TOP = 48;
  private static final double BELOW = 44;

  /** A frame that leaves so much room at its right. */
  static Frame of(Size size, Axis across, Axis up, double room) {
    double left = 12 + up.ticks(size.ticksUp).stream().mapToDouble(t -> Svg.width(up.words().apply(t))).max().orElse(0);
    return new Frame(size, across, up, left, size.width - room, TOP, TOP + PLOT);
  }

  double x(double value) {
    return across.place(value, left, right);
  }

  double y(double value) {
    return up.place(value, bottom, top);
  }

  /** The height of the chart up to the title of its lower axis. */
  double height() {
    return bottom + BELOW;
  }

  void draw(Svg svg) {
    svg.words(0, 16, "start", false, up.title());
    for (double tick : up.ticks(size.ticksUp)) {
      svg.rule(left, y(tick), right, y(tick), tick == up.from());
      svg.words(left - 6, y(tick) + 5, "end", false, up.words().apply(tick));
    }
  }

  /** The lower axis: a tick at each of its steps. */
  void drawAcross(Svg svg) {
    List<Double> ticks = across.ticks(size.ticksAcross);
    double free = Double.NEGATIVE_INFINITY;
    for (double tick : ticks) {
      String words = across.words().apply(tick);
      double half = Svg.width(words) / 2;
      svg.rule(x(tick), bottom, x(tick), bottom + 5, true);
      if (x(tick) - half > free && x(tick) + half <= size.width + half / 2) {
        svg.words(x(tick), bottom + 20, "middle", false, words);
        free = x(tick) + half + 4;
      }
    }
    svg.words((left + right) / 2, bottom + 39, "middle", false, across.title());
  }
}

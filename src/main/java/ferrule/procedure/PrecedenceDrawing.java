package ferrule.procedure;

import ferrule.procedure.LayeredLayout.Spot;
import java.util.List;
import java.util.Locale;

/**
 * Draws which steps of a procedure wait for which, as SVG: a step stands below all that must come before it. Steps bear
 * their numbers in the list, and lead to the anchors {@code #step-1}, {@code #step-2}, ...
 */
final class PrecedenceDrawing {

  private static final int LINE_LENGTH = 21;

  private final Procedure procedure;
  private final boolean named;
  private final double width;
  private final double height;
  private final double rise;
  private final LayeredLayout layout;
  private final StringBuilder svg = new StringBuilder();

  private PrecedenceDrawing(Procedure procedure, boolean named) {
    this.procedure = procedure;
    this.named = named;
    this.width = named ? 196 : 40;
    this.height = named ? 52 : 40;
    this.rise = named ? 34 : 30;
    this.layout = new LayeredLayout(procedure.order(), width + 20, named ? 28 : 20);
  }

  /** With the steps' names, for a wide page and for paper. */
  static String withNames(Procedure procedure) {
    return new PrecedenceDrawing(procedure, true).draw();
  }

  /** With their numbers only, for a narrow page. */
  static String withNumbers(Procedure procedure) {
    return new PrecedenceDrawing(procedure, false).draw();
  }

  private String draw() {
    double fullWidth = layout.width();
    double fullHeight = layout.rows().size() * (height + rise) - rise + 4;
    add("<svg class=\"precedence %s\" viewBox=\"0 -2 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\">",
        named ? "names" : "numbers", fullWidth, fullHeight, fullWidth, fullHeight);
    layout.lines().forEach(this::line);
    layout.rows().forEach(row -> row.stream().filter(s -> !s.isBend()).forEach(this::step));
    return svg.append("</svg>").toString();
  }

  private double top(Spot spot) {
    return spot.row * (height + rise);
  }

  private void line(List<Spot> spots) {
    Spot from = spots.get(0);
    StringBuilder path = new StringBuilder(format("M%.1f %.1f", from.x, top(from) + height));
    for (int i = 1; i < spots.size(); i++) {
      Spot to = spots.get(i);
      double start = top(spots.get(i - 1)) + height;
      double end = top(to);
      double middle = (start + end) / 2;
      path.append(format("C%.1f %.1f %.1f %.1f %.1f %.1f", spots.get(i - 1).x, middle, to.x, middle, to.x, end));
      if (to.isBend()) {
        path.append(format("V%.1f", end + height));
      }
    }
    Spot end = spots.get(spots.size() - 1);
    add("<path class=\"line\" d=\"%s\"/>", path);
    add("<path class=\"head\" d=\"M%.1f %.1fl-4.5 -8h9z\"/>", end.x, top(end));
  }

  private void step(Spot spot) {
    Step step = procedure.steps().get(spot.element);
    int number = spot.element + 1;
    double left = spot.x - width / 2;
    double middle = top(spot) + height / 2;
    add("<a href=\"#step-%d\"><rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"%d\"/>",
        number, left, top(spot), width, height, named ? 4 : 20);
    if (named) {
      number(number, left + 18, middle);
      name(step.name(), left + 36, middle);
    } else {
      add("<title>%s</title>", escaped(step.name()));
      number(number, spot.x, middle);
    }
    svg.append("</a>");
  }

  private void number(int number, double x, double middle) {
    add("<text class=\"number\" x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%d</text>", x, middle + 6, number);
  }

  private void name(String name, double x, double middle) {
    int cut = cut(name);
    if (cut < 0) {
      add("<text x=\"%.1f\" y=\"%.1f\">%s</text>", x, middle + 5, escaped(name));
    } else {
      add("<text x=\"%.1f\" y=\"%.1f\">%s<tspan x=\"%.1f\" dy=\"17\">%s</tspan></text>",
          x, middle - 4, escaped(name.substring(0, cut)), x, escaped(name.substring(cut + 1)));
    }
  }

  /** The space at which a long name is broken so that the longer line is as short as can be; -1 for a short name. */
  private static int cut(String name) {
    if (name.length() <= LINE_LENGTH) {
      return -1;
    }
    int best = -1;
    for (int i = name.indexOf(' '); i >= 0; i = name.indexOf(' ', i + 1)) {
      if (best < 0 || Math.max(i, name.length() - i) < Math.max(best, name.length() - best)) {
        best = i;
      }
    }
    return best;
  }

  private static String escaped(String text) {
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
  }

  private void add(String format, Object... values) {
    svg.append(format(format, values));
  }

  private static String format(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}

package ferrule.report.chart;

import java.util.List;
import java.util.Locale;

/**
 * The text of one chart as it is written. Colours are plain attributes, which files and paper keep; the stylesheet
 * {@code chart.css} overrules them on a page, so that the chart follows the reader's light or dark.
 */
final class Svg {

  static final String INK = "#18201d";
  static final String SOFT = "#4a5751";
  private static final String LINE = "#c2cbc4";

  private final StringBuilder text = new StringBuilder();

  /** Adds markup with its numbers, rounded to tenths. */
  Svg add(String format, Object... parts) {
    Object[] written = new Object[parts.length];
    for (int i = 0; i < parts.length; i++) {
      written[i] = parts[i] instanceof Double d ? number(d) : parts[i];
    }
    text.append(String.format(Locale.ROOT, format, written));
    return this;
  }

  static String number(double value) {
    String tenths = String.format(Locale.ROOT, "%.1f", value);
    return tenths.endsWith(".0") ? tenths.substring(0, tenths.length() - 2) : tenths;
  }

  /** A closed outline, filled with the colour of the sheet. */
  void path(String className, double... points) {
    add("<path class=\"%s\" d=\"%sZ\" fill=\"#fbfcfa\" stroke=\"%s\" stroke-width=\"2\"/>", className, line(points), INK);
  }

  static String line(double... points) {
    StringBuilder d = new StringBuilder();
    for (int i = 0; i < points.length; i += 2) {
      d.append(i == 0 ? 'M' : 'L').append(number(points[i])).append(' ').append(number(points[i + 1]));
    }
    return d.toString();
  }

  void rule(double x1, double y1, double x2, double y2, boolean strong) {
    add("<path class=\"%s\" d=\"%s\" stroke=\"%s\" stroke-width=\"1\" fill=\"none\"/>", strong ? "chart-edge" : "chart-grid",
        line(x1, y1, x2, y2), strong ? SOFT : LINE);
  }

  /** Words; anchor is start, middle or end. */
  void words(double x, double y, String anchor, boolean strong, String words) {
    add("<text class=\"%s\" x=\"%s\" y=\"%s\" text-anchor=\"%s\" font-size=\"14\" fill=\"%s\">%s</text>",
        strong ? "chart-name" : "chart-words", x, y, anchor, strong ? INK : SOFT, escaped(words));
  }

  static String escaped(String words) {
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace("\"", "&quot;");
  }

  /** The estimated width of words in px: enough to leave room for them. */
  static double width(String words) {
    return 7.4 * words.length();
  }

  /** The whole element; the typesetter of papers reads what it says from another attribute than browsers do. */
  String drawn(Frame.Size size, double height, String says) {
    return String.format(
        Locale.ROOT,
        "<svg class=\"chart %s\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %s %s\" width=\"%s\" height=\"%s\" %s=\"%s\" "
            + "font-family=\"'Ferrule Text', sans-serif\">%s</svg>",
        size.word(), number(size.width()), number(height), number(size.width()), number(height),
        size == Frame.Size.PAPER ? "alt" : "role=\"img\" aria-label", escaped(says), text);
  }

  /** How a line or a column looks, beside its name in a key. */
  interface Sample {
    void draw(double x, double y);
  }

  static final double KEY_LINE = 22;

  /** The key of lines or columns: samples and their names, one beneath the other. */
  void key(double x, double y, List<String> names, List<Sample> samples) {
    for (int i = 0; i < names.size(); i++) {
      double at = y + i * KEY_LINE;
      samples.get(i).draw(x, at);
      words(x + 44, at + 5, "start", true, names.get(i));
    }
  }
}

package ferrule.drawing.label;

import java.util.List;
import java.util.Locale;

/**
 * Writes labels as SVG. Colours are presentation attributes, which a page's own style for {@code .leader},
 * {@code .leader-halo}, {@code .leader-end} and {@code .label} overrides.
 */
public final class LabelSvg {

  private static final double ASCENT = 0.95;
  private static final String FACE = "'Ferrule Text', Arial, 'Liberation Sans', Helvetica, sans-serif";

  private LabelSvg() {}

  /**
   * A group with the leaders and the texts, to stand after the picture's own shapes.
   *
   * @param shapes the number of the shape of each labelled point, in the order of the labels, so that a pointer on a
   *     text finds its shape; empty if the labels are not those of shapes
   */
  public static String of(Labelling labelling, List<Integer> shapes) {
    StringBuilder svg = new StringBuilder();
    // hidden from those who listen: the parts themselves are named to them
    svg.append("<g aria-hidden=\"true\" class=\"labels ")
        .append(labelling.kind().name().toLowerCase(Locale.ROOT))
        .append("\" font-family=\"").append(FACE).append("\" font-size=\"")
        .append(number(labelling.fontSize())).append("\" fill=\"#241d16\">");
    // all leaders before all texts, so that no line runs over words
    labelling.labels().forEach(label -> appendLeader(svg, labelling, label));
    for (int i = 0; i < labelling.labels().size(); i++) {
      svg.append(shapes.isEmpty() ? "<g>" : "<g class=\"label-of\" data-shape=\"" + shapes.get(i) + "\">");
      appendText(svg, labelling, labelling.labels().get(i));
      svg.append("</g>");
    }
    return svg.append("</g>").toString();
  }

  private static void appendLeader(StringBuilder svg, Labelling labelling, Labelling.Label label) {
    double line = labelling.fontSize() / 12;
    String path = path(labelling, label);
    svg.append("<path class=\"leader-halo\" d=\"").append(path).append("\" fill=\"none\" stroke=\"#fff\"")
        .append(" stroke-opacity=\".75\" stroke-width=\"").append(number(3 * line)).append("\"/>");
    svg.append("<path class=\"leader\" d=\"").append(path).append("\" fill=\"none\" stroke=\"#241d16\"")
        .append(" stroke-width=\"").append(number(line)).append("\"/>");
    Point site = label.leader().site();
    svg.append("<circle class=\"leader-end\" cx=\"").append(number(site.x())).append("\" cy=\"")
        .append(number(site.y())).append("\" r=\"").append(number(2.4 * line))
        .append("\" stroke=\"#fff\" stroke-width=\"").append(number(line)).append("\"/>");
  }

  private static String path(Labelling labelling, Labelling.Label label) {
    return "M" + pair(label.leader().site()) + "L" + pair(label.leader().port().at())
        + "L" + pair(labelling.landing(label));
  }

  private static void appendText(StringBuilder svg, Labelling labelling, Labelling.Label label) {
    Side side = label.leader().port().side();
    Box box = label.box();
    String anchor = side == Side.LEFT ? "end" : side == Side.RIGHT ? "start" : "middle";
    double x = side == Side.LEFT ? box.right() : side == Side.RIGHT ? box.x() : box.x() + box.width() / 2;
    svg.append("<text class=\"label\" text-anchor=\"").append(anchor).append("\">");
    List<String> lines = label.lines();
    for (int i = 0; i < lines.size(); i++) {
      double y = box.y() + i * labelling.lineHeight() + ASCENT * labelling.fontSize();
      svg.append("<tspan x=\"").append(number(x)).append("\" y=\"").append(number(y)).append("\">")
          .append(escaped(lines.get(i))).append("</tspan>");
    }
    svg.append("</text>");
  }

  private static String escaped(String text) {
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
  }

  private static String pair(Point point) {
    return number(point.x()) + " " + number(point.y());
  }

  private static String number(double value) {
    String text = String.format(Locale.ROOT, "%.1f", value);
    return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
  }
}

package ferrule.drill.paper;

import ferrule.drawing.Picture;
import ferrule.drawing.PictureRequest;
import ferrule.drawing.Studio;
import ferrule.drawing.Style;
import ferrule.drawing.Visible;
import ferrule.drawing.label.Box;
import ferrule.drawing.label.LabelSvg;
import ferrule.drawing.label.Labelling;
import ferrule.drawing.label.Labelling.Label;
import ferrule.drawing.label.Point;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * A drawing in lines with numbers beside some of its parts. The numbers are given, and only their places follow from the
 * drawing, so that a number belongs to its part whatever the drawing looks like in a later edition.
 */
final class NumberedDrawing {

  /** The widest that a drawing is printed, in mm: what A4 and Letter both have room for. */
  private static final double WIDEST = 176;

  /** The size of a number, in mm: 11 pt; less where numbers would stand so close that 7 and 8 read as 78. */
  private static final double NUMBER = 3.9;

  /** No number is smaller than this share of the size that its place was made for: there it always has room. */
  private static final double CLOSEST = 0.5;

  // in em: a digit's width, and the room between two numbers
  private static final double DIGIT = 0.62;
  private static final double BETWEEN = 0.5;

  /** The room round a drawing on which somebody is to write, in px of the drawing. */
  private static final double MARGIN = 60;

  private final Picture picture;
  private final Labelling labelling;
  private final List<ConceptId> labelled;
  private final Box sheet;
  private final double highest;

  private NumberedDrawing(Picture picture, Labelling labelling, List<ConceptId> labelled, Box sheet, double highest) {
    this.picture = picture;
    this.labelling = labelling;
    this.labelled = labelled;
    this.sheet = sheet;
    this.highest = highest;
  }

  /**
   * A drawing of a view with these numbers.
   *
   * @param numbers by part; a part of which this edition's view shows nothing is left out
   * @param highest how high it may be printed, in mm
   */
  static NumberedDrawing of(
      Studio studio, String view, Set<String> variants, Map<ConceptId, Integer> numbers, double highest) {
    PictureRequest request =
        PictureRequest.of(view).variants(variants).style(Style.LINE).quiz(1).withFixedColours();
    Picture picture = studio.picture(request);
    Map<ConceptId, Point> anchors = anchors(picture.visible(), numbers.keySet());
    List<ConceptId> labelled = List.copyOf(anchors.keySet());
    Box drawing = new Box(0, 0, picture.width(), picture.height());
    if (labelled.isEmpty()) {
      Box roomy = drawing.with(new Box(-MARGIN, -MARGIN, picture.width() + 2 * MARGIN, picture.height() + 2 * MARGIN));
      return new NumberedDrawing(
          picture, new Labelling(Labelling.Kind.NUMBERS, drawing, roomy, 1, List.of()), labelled, roomy, highest);
    }
    Labelling labelling = Labelling.ofNumbers(drawing, List.copyOf(anchors.values()));
    double scale = Math.min(WIDEST / picture.width(), highest / picture.height());
    double factor = NUMBER / scale / labelling.fontSize();
    List<String> texts = labelled.stream().map(part -> String.valueOf(numbers.get(part))).toList();
    while (factor > CLOSEST && areClose(labelling, texts, factor)) {
      factor *= 0.9;
    }
    List<Label> labels = new ArrayList<>();
    Box sheet = drawing;
    for (int i = 0; i < labelled.size(); i++) {
      Label label = labelling.labels().get(i);
      Box box = box(labelling, label, texts.get(i), factor, 0);
      labels.add(new Label(List.of(texts.get(i)), box, label.leader()));
      sheet = sheet.with(box);
    }
    Labelling sized =
        new Labelling(labelling.kind(), drawing, sheet, labelling.fontSize() * factor, labels);
    return new NumberedDrawing(picture, sized, labelled, sheet, highest);
  }

  /** The parts of these that a view shows, in the order in which labels go round its drawing. */
  static List<ConceptId> round(Studio studio, String view, Set<String> variants, List<ConceptId> parts) {
    Picture picture = studio.picture(PictureRequest.of(view).variants(variants).style(Style.LINE));
    Map<ConceptId, Point> anchors = anchors(picture.visible(), parts);
    if (anchors.isEmpty()) {
      return List.of();
    }
    Labelling labelling =
        Labelling.ofNumbers(new Box(0, 0, picture.width(), picture.height()), List.copyOf(anchors.values()));
    List<ConceptId> labelled = new ArrayList<>(anchors.keySet());
    List<ConceptId> order = new ArrayList<>(labelled);
    order.sort(
        (a, b) -> Integer.compare(number(labelling, labelled.indexOf(a)), number(labelling, labelled.indexOf(b))));
    return order;
  }

  private static int number(Labelling labelling, int label) {
    return Integer.parseInt(labelling.labels().get(label).lines().get(0));
  }

  private static Map<ConceptId, Point> anchors(Map<ConceptId, Visible> seen, Iterable<ConceptId> parts) {
    Map<ConceptId, Point> anchors = new LinkedHashMap<>();
    for (ConceptId part : parts) {
      Visible visible = seen.get(part);
      if (visible != null && visible.areaPx() > 0) {
        Point at = new Point(visible.anchor().x(), visible.anchor().y());
        while (anchors.containsValue(at)) {
          at = new Point(at.x() + 1, at.y()); // a whole and one of its pieces can have the same deepest point
        }
        anchors.put(part, at);
      }
    }
    return anchors;
  }

  /** Whether two numbers of this size would stand closer than a space apart. */
  private static boolean areClose(Labelling labelling, List<String> texts, double factor) {
    double room = BETWEEN * labelling.fontSize() * factor;
    List<Box> boxes = new ArrayList<>();
    for (int i = 0; i < texts.size(); i++) {
      Box box = box(labelling, labelling.labels().get(i), texts.get(i), factor, room);
      if (boxes.stream().anyMatch(box::overlaps)) {
        return true;
      }
      boxes.add(box);
    }
    return false;
  }

  /** The room of a number: its label's, made smaller about the end of the leader, and as wide as the number is. */
  private static Box box(Labelling labelling, Label label, String text, double factor, double room) {
    Point port = label.leader().port().at();
    double width = DIGIT * text.length() * labelling.fontSize() * factor + room;
    double middle = port.x() + (label.box().x() + label.box().width() / 2 - port.x()) * factor;
    double x =
        switch (label.leader().port().side()) {
          case LEFT -> port.x() + (label.box().right() - port.x()) * factor - width;
          case RIGHT -> port.x() + (label.box().x() - port.x()) * factor;
          case TOP, BOTTOM -> middle - width / 2;
        };
    double y = port.y() + (label.box().y() - port.y()) * factor;
    return new Box(x, y, width, label.box().height() * factor);
  }

  /** The parts that have a number on it. */
  List<ConceptId> labelled() {
    return labelled;
  }

  /** For a page: the numbers are text of the SVG. */
  String svg() {
    return withLabels(LabelSvg.of(labelling, List.of()), "");
  }

  /**
   * For a PDF: the numbers are text laid on the SVG, because the typesetter draws the text of an SVG as shapes, which
   * cannot be searched, copied or read out.
   *
   * @param alt what is said to those who do not see it
   */
  String laidOut(String alt) {
    double scale = Math.min(WIDEST / sheet.width(), highest / sheet.height());
    double width = sheet.width() * scale;
    double height = sheet.height() * scale;
    List<Label> bare = labelling.labels().stream().map(l -> new Label(List.of(), l.box(), l.leader())).toList();
    Labelling leaders = new Labelling(labelling.kind(), labelling.picture(), sheet, labelling.fontSize(), bare);
    StringBuilder html = new StringBuilder();
    html.append(mm("<div class=\"drawing\" style=\"width:%.2fmm;height:%.2fmm\">", width, height));
    html.append(
        withLabels(
            LabelSvg.of(leaders, List.of()),
            mm(" width=\"%.2fmm\" height=\"%.2fmm\"", width, height) + " alt=\"" + escaped(alt) + "\""));
    for (Label label : labelling.labels()) {
      Box box = label.box();
      html.append(
          mm(
              "<span class=\"at\" style=\"left:%.2fmm;top:%.2fmm;width:%.2fmm;font-size:%.2fmm\">",
              (box.x() - sheet.x()) * scale - 2,
              (box.y() + box.height() / 2 - sheet.y()) * scale - 2.4,
              box.width() * scale + 4,
              labelling.fontSize() * scale));
      html.append(label.lines().get(0)).append("</span>");
    }
    return html.append("</div>").toString();
  }

  private String withLabels(String labels, String attributes) {
    String svg = picture.svg();
    int end = svg.lastIndexOf("</svg>");
    String box =
        String.format(
            Locale.ROOT, "viewBox=\"%.1f %.1f %.1f %.1f\"", sheet.x(), sheet.y(), sheet.width(), sheet.height());
    return (svg.substring(0, end) + labels + svg.substring(end)).replaceFirst("viewBox=\"[^\"]*\"", box + attributes);
  }

  private static String mm(String format, Object... lengths) {
    return String.format(Locale.ROOT, format, lengths);
  }

  private static String escaped(String text) {
    return text.replace("&", "&amp;").replace("\"", "&quot;").replace("<", "&lt;");
  }
}

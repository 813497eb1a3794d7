package ferrule.drawing.label;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * The labels of one picture, each with its place and leader, and the sheet that holds the picture and the labels.
 *
 * <p>Terms stand in a column on the left and one on the right; numbers stand on all four sides, counted round the
 * picture from the upper left corner, clockwise or, if there are more below than above, the other way, so that a list
 * beside the picture is followed with the finger. If a side has no room for its
 * labels, the frame grows above and below the picture until all fit. The size of the text follows from the width at
 * which the sheet is shown: it is never less than {@value #SMALLEST_TEXT} CSS pixels there.
 *
 * @param kind what is written
 * @param picture the picture's own rectangle
 * @param sheet the rectangle that holds the picture, the leaders and the labels
 * @param fontSize the size of the text in picture units
 * @param labels a label for each labelled point, in the order in which the points were given
 */
public record Labelling(Kind kind, Box picture, Box sheet, double fontSize, List<Label> labels) {

  /** What is written. */
  public enum Kind {
    /** Words. */
    TERMS,
    /** Numbers that go with a list. */
    NUMBERS
  }

  /** The least width, in CSS pixels, at which terms are legible beside the picture; below it, numbers are. */
  public static final double TERMS_FROM = 960;

  /** The least width, in CSS pixels, at which numbers are legible: a phone's, less the page's margins. */
  public static final double NUMBERS_FROM = 340;

  /** The least size of the text, in CSS pixels, when the sheet is shown at the least width. */
  public static final double SMALLEST_TEXT = 12.5;

  // in em
  private static final double LINE = 1.2;
  private static final double BETWEEN_LABELS = 0.55;
  private static final double LANDING = 0.7;
  private static final double BEFORE_TEXT = 0.3;

  /** A second line is worth this share of the sheet, a third one four times as much: it tears most terms apart. */
  private static final double LOSS_BY_BREAK = 0.1;

  private static final int MOST_LINES = 3;
  /** The least share of the sheet's width that the drawing keeps. */
  private static final double LEAST_DRAWING = 0.25;

  /**
   * One label.
   *
   * @param lines its text, in one line or more
   * @param box the room that the text takes, at most
   * @param leader from the part to the frame; a short landing goes on from there to the text
   */
  public record Label(List<String> lines, Box box, Leader leader) {

    /** Copies the lines. */
    public Label {
      lines = List.copyOf(lines);
    }
  }

  /** Copies the labels. */
  public Labelling {
    labels = List.copyOf(labels);
  }

  /** The total length of the leaders in picture units, the landings not counted. */
  public double leaderLength() {
    return labels.stream().mapToDouble(label -> label.leader().length()).sum();
  }

  /**
   * Terms on the left and the right, legible from {@link #TERMS_FROM} on. Long terms are broken into lines where that
   * leaves the drawing a larger share of the sheet.
   *
   * @throws IllegalArgumentException if two points are the same or one does not lie inside the picture, or if a term is
   *     so long that even in {@value #MOST_LINES} lines it leaves no room for the drawing
   */
  public static Labelling ofTerms(Box picture, List<Site> sites) {
    return IntStream.rangeClosed(1, MOST_LINES)
        .mapToObj(lines -> Setting.ofTerms(picture, sites, lines))
        .flatMap(Optional::stream)
        .min(Comparator.comparingDouble(Setting::loss))
        .orElseThrow(() -> new IllegalArgumentException("a term is too long to stand beside a picture: " + sites))
        .place(sites.stream().map(Site::at).toList());
  }

  /**
   * Numbers from 1 on all four sides, legible from {@link #NUMBERS_FROM} on; the number of each point is the text of
   * its label.
   *
   * @throws IllegalArgumentException if two points are the same or one does not lie inside the picture
   */
  public static Labelling ofNumbers(Box picture, List<Point> sites) {
    return Setting.ofNumbers(picture, sites.size()).orElseThrow().place(sites);
  }

  /**
   * How the labels are set, before it is known which goes where.
   *
   * @param frame the picture, grown until there are enough ports
   * @param em the font's size in picture units
   * @param columnEm the width of the widest label in em
   * @param texts the lines of each label; empty for numbers, which follow from the places
   */
  private record Setting(
      Kind kind, Box picture, Box frame, double em, double columnEm, int lines, List<List<String>> texts) {

    static Optional<Setting> ofTerms(Box picture, List<Site> sites, int lines) {
      List<List<String>> texts = sites.stream().map(site -> LineBreak.into(site.text(), lines)).toList();
      double columnEm =
          texts.stream().flatMap(List::stream).mapToDouble(TextWidth::ofLine).max().orElse(1);
      int most = texts.stream().mapToInt(List::size).max().orElse(1);
      return of(Kind.TERMS, picture, columnEm, most, texts, sites.size());
    }

    static Optional<Setting> ofNumbers(Box picture, int count) {
      double columnEm = TextWidth.ofLine(String.valueOf(count));
      return of(Kind.NUMBERS, picture, columnEm, 1, List.of(), count);
    }

    private static Optional<Setting> of(
        Kind kind, Box picture, double columnEm, int lines, List<List<String>> texts, int count) {
      // em = shown em x (sheet width / shown width), and the sheet is the picture and two columns of so many em
      double share = SMALLEST_TEXT / (kind == Kind.TERMS ? TERMS_FROM : NUMBERS_FROM);
      double left = 1 - 2 * share * (columnEm + LANDING + BEFORE_TEXT);
      if (left < LEAST_DRAWING) {
        return Optional.empty();
      }
      double em = share * picture.width() / left;
      Setting setting = new Setting(kind, picture, picture, em, columnEm, lines, texts);
      int along =
          setting.sides().contains(Side.TOP) ? 2 * Port.countAlong(picture.width(), setting.columnPitch()) : 0;
      int rows = Math.max(0, (count - along + 1) / 2);
      double grow = Math.max(0, rows * setting.rowPitch() - picture.height());
      return Optional.of(new Setting(kind, picture, picture.taller(grow / 2), em, columnEm, lines, texts));
    }

    Set<Side> sides() {
      return kind == Kind.TERMS ? EnumSet.of(Side.LEFT, Side.RIGHT) : EnumSet.allOf(Side.class);
    }

    double rowPitch() {
      return (lines * LINE + BETWEEN_LABELS) * em;
    }

    double columnPitch() {
      return (columnEm + BETWEEN_LABELS) * em;
    }

    /** How much is lost by setting the labels so: the area of the sheet, and the calm of a term in one line. */
    double loss() {
      double area = (frame.width() + 2 * (columnEm + LANDING + BEFORE_TEXT) * em) * frame.height();
      return area * (1 + LOSS_BY_BREAK * (lines - 1) * (lines - 1));
    }

    Labelling place(List<Point> points) {
      List<Port> ports = Port.along(frame, sides(), rowPitch(), columnPitch());
      List<Leader> leaders = BoundaryLabelling.shortest(frame, points, ports);
      List<List<String>> written = kind == Kind.NUMBERS ? numbered(leaders, ports) : texts;
      List<Label> labels = new ArrayList<>();
      for (int i = 0; i < points.size(); i++) {
        labels.add(new Label(written.get(i), boxFor(written.get(i), leaders.get(i).port()), leaders.get(i)));
      }
      Box sheet = labels.stream().map(Label::box).reduce(frame, Box::with);
      return new Labelling(kind, picture, sheet, em, labels);
    }

    private static List<List<String>> numbered(List<Leader> leaders, List<Port> clockwise) {
      List<Port> taken =
          new ArrayList<>(
              clockwise.stream().filter(port -> leaders.stream().anyMatch(l -> l.port().equals(port))).toList());
      if (on(Side.BOTTOM, taken) > on(Side.TOP, taken)) {
        Collections.reverse(taken);
      }
      return leaders.stream().map(l -> List.of(String.valueOf(taken.indexOf(l.port()) + 1))).toList();
    }

    private static long on(Side side, List<Port> ports) {
      return ports.stream().filter(port -> port.side() == side).count();
    }

    private Box boxFor(List<String> text, Port port) {
      double width = text.stream().mapToDouble(TextWidth::ofLine).max().orElseThrow() * em;
      double height = text.size() * LINE * em;
      double off = (LANDING + BEFORE_TEXT) * em;
      double x = port.at().x();
      double y = port.at().y();
      return switch (port.side()) {
        case LEFT -> new Box(x - off - width, y - height / 2, width, height);
        case RIGHT -> new Box(x + off, y - height / 2, width, height);
        case TOP -> new Box(x - width / 2, y - off - height, width, height);
        case BOTTOM -> new Box(x - width / 2, y + off, width, height);
      };
    }
  }

  /** The point where a label's landing ends, just before its text. */
  public Point landing(Label label) {
    double reach = LANDING * fontSize;
    Point at = label.leader().port().at();
    return switch (label.leader().port().side()) {
      case LEFT -> new Point(at.x() - reach, at.y());
      case RIGHT -> new Point(at.x() + reach, at.y());
      case TOP -> new Point(at.x(), at.y() - reach);
      case BOTTOM -> new Point(at.x(), at.y() + reach);
    };
  }

  /** The height of a line of text in picture units. */
  public double lineHeight() {
    return LINE * fontSize;
  }
}

package ferrule.drawing;

import ferrule.drawing.label.Box;
import ferrule.drawing.label.LabelSvg;
import ferrule.drawing.label.Labelling;
import ferrule.drawing.label.Point;
import ferrule.drawing.label.Site;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Labels the parts of one picture: every part that is neither left out nor dimmed and of which enough is seen to point
 * at, at the visible point that lies deepest inside it.
 */
final class Labeller {

  /** The least visible area of a part, in square px, for a leader to point at it. */
  private static final double LEAST_AREA = 12;

  private final List<ConceptId> named;
  private final List<Integer> shapes;
  private final Optional<Labelling> labelling;

  private Labeller(
      Labels labels, Glossary glossary, double height, List<ConceptId> named, List<Point> anchors,
      List<Integer> shapes) {
    this.named = named;
    this.shapes = shapes;
    Box picture = new Box(0, 0, Studio.WIDTH, height);
    labelling =
        switch (labels) {
          case NONE -> Optional.empty();
          case NUMBERS -> Optional.of(Labelling.ofNumbers(picture, anchors));
          case TERMS -> Optional.of(Labelling.ofTerms(picture, sites(glossary, named, anchors)));
        };
  }

  /**
   * Labels the parts of a picture.
   *
   * @param shown the parts by the number of their shape
   * @param seen how much of each part is seen
   * @param marks the marks by the number of the shape
   */
  static Labeller ofParts(
      Labels labels,
      Glossary glossary,
      double height,
      List<ConceptId> shown,
      Map<ConceptId, Visible> seen,
      Map<Integer, Mark> marks) {
    List<ConceptId> named = new ArrayList<>();
    List<Integer> shapes = new ArrayList<>();
    for (int shape = 0; shape < shown.size() && labels != Labels.NONE; shape++) {
      Mark mark = marks.get(shape);
      boolean large = seen.get(shown.get(shape)).areaPx() >= LEAST_AREA;
      if (large && !(mark instanceof Mark.Hidden) && !(mark instanceof Mark.Dimmed)) {
        named.add(shown.get(shape));
        shapes.add(shape);
      }
    }
    List<Point> anchors = named.stream().map(part -> anchor(seen.get(part))).toList();
    return new Labeller(labels, glossary, height, named, anchors, shapes);
  }

  /**
   * Names wholes in a picture, such as its assemblies, each at its clearest piece; a whole of which nothing is seen is
   * left out.
   *
   * @param wholes the wholes, none of them a part of another
   */
  static Labeller ofWholes(
      Glossary glossary, double height, List<ConceptId> shown, Map<ConceptId, Visible> seen, List<ConceptId> wholes) {
    List<ConceptId> named = new ArrayList<>();
    List<Point> anchors = new ArrayList<>();
    for (ConceptId whole : wholes) {
      shown.stream()
          .filter(part -> part.equals(whole) || glossary.wholesOf(part).contains(glossary.get(whole)))
          .map(seen::get)
          .filter(visible -> visible.areaPx() >= LEAST_AREA)
          .max(Comparator.comparingDouble(visible -> visible.areaPx() * visible.fraction()))
          .ifPresent(
              clearest -> {
                named.add(whole);
                anchors.add(anchor(clearest));
              });
    }
    return new Labeller(Labels.TERMS, glossary, height, named, anchors, List.of());
  }

  private static List<Site> sites(Glossary glossary, List<ConceptId> named, List<Point> anchors) {
    List<Site> sites = new ArrayList<>();
    for (int i = 0; i < named.size(); i++) {
      sites.add(new Site(anchors.get(i), glossary.get(named.get(i)).term()));
    }
    return sites;
  }

  private static Point anchor(Visible visible) {
    return new Point(visible.anchor().x(), visible.anchor().y());
  }

  /** The labels and their places, if there are any. */
  Optional<Labelling> labelling() {
    return labelling;
  }

  /** The part of the plane, as an SVG view box, that holds a drawing and its labels. */
  String viewBox(Box drawing) {
    Box sheet = labelling.map(Labelling::sheet).map(drawing::with).orElse(drawing);
    return String.format(
        Locale.ROOT,
        "%.0f %.0f %.0f %.0f",
        Math.floor(sheet.x()), Math.floor(sheet.y()), Math.ceil(sheet.width()) + 1, Math.ceil(sheet.height()) + 1);
  }

  /** The labels as SVG; an empty text if there are none. */
  String svg() {
    return labelling.map(l -> LabelSvg.of(l, shapes)).orElse("");
  }

  /** The numbers beside the parts; empty if there are none. */
  Map<ConceptId, Integer> numbers() {
    Map<ConceptId, Integer> numbers = new LinkedHashMap<>();
    labelling.filter(l -> l.kind() == Labelling.Kind.NUMBERS).ifPresent(l -> {
      for (int i = 0; i < named.size(); i++) {
        numbers.put(named.get(i), Integer.parseInt(l.labels().get(i).lines().get(0)));
      }
    });
    return numbers;
  }
}

package ferrule.drawing;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What a view shows with a choice of variants: pieces in painting order, and which part each belongs to. It does not
 * depend on style, marks or labels.
 */
final class Scene {

  private static final double MARGIN = 22;
  private static final double TALLEST = 780;
  /** Pixels of the buffer in which pieces are compared and counted as seen. */
  private static final double BUFFER_PIXELS = 64_000;

  /** A way that parts travelled, on the picture. */
  record Travel(Vec from, Vec to) {}

  private final List<ConceptId> parts = new ArrayList<>();
  private final Set<Integer> ghosts = new HashSet<>();
  private final List<Travel> travels = new ArrayList<>();
  private final Projection projection;
  private final double height;
  private final List<Piece> pieces;
  private final Map<ConceptId, Visible> seen;

  private Scene(View view, List<Shape> chosen, Glossary glossary) {
    Map<ConceptId, Vec> moved = movesOf(view, glossary);
    List<Shape> placed = chosen.stream()
        .map(s -> moved.containsKey(s.part()) ? s.moved(moved.get(s.part())) : s)
        .toList();
    Camera camera = Camera.from(view.from(), view.up());
    Bounds bounds = Bounds.of(placed, camera);
    double scale = Math.min(
        (Studio.WIDTH - 2 * MARGIN) / bounds.width(), (TALLEST - 2 * MARGIN) / bounds.height());
    height = Math.ceil(bounds.height() * scale + 2 * MARGIN);
    projection = new Projection(camera, scale,
        Studio.WIDTH / 2.0 - (bounds.minX() + bounds.maxX()) / 2 * scale,
        height / 2 + (bounds.minY() + bounds.maxY()) / 2 * scale);
    Cutter cutter = new Cutter(placed);
    List<Piece> all = new ArrayList<>();
    Map<ConceptId, Integer> numbers = new LinkedHashMap<>();
    for (Shape s : placed) {
      int number = numbers.computeIfAbsent(s.part(), p -> {
        parts.add(p);
        return parts.size() - 1;
      });
      all.addAll(cutter.pieces(number, s, projection));
    }
    markGhosts(view, placed, glossary);
    findTravels(view, chosen, glossary);
    double factor = bufferFactor();
    Raster raster = paint(all, factor);
    seen = seenBy(new VisibilityMap(raster, all, ghosts::contains, parts.size(), factor), glossary);
    pieces = List.copyOf(DepthOrder.of(all, ghosts::contains, raster, factor));
  }

  /**
   * The scene of a view.
   *
   * @param variants one variant of each axis
   * @param alsoHidden concepts that are left out beside those that the view leaves out
   */
  static Scene of(
      View view, Instrument instrument, Glossary glossary, Set<String> variants, Set<ConceptId> alsoHidden) {
    Set<ConceptId> shown = within(view.shown(), glossary);
    Set<ConceptId> hidden = within(view.hidden(), glossary);
    hidden.addAll(within(alsoHidden, glossary));
    Set<ConceptId> glass = within(view.ghosts(), glossary);
    List<Shape> chosen = instrument.shapes().stream()
        .filter(s -> shown.isEmpty() || shown.contains(s.part()))
        .filter(s -> !hidden.contains(s.part()))
        .filter(s -> occurs(s, glossary, variants))
        .filter(s -> isHollowOrFilled(s, glass, glossary))
        .toList();
    if (chosen.isEmpty()) {
      throw new IllegalArgumentException(
          "view " + view.id() + " shows nothing with the variants " + variants + " and without " + alsoHidden);
    }
    return new Scene(view, chosen, glossary);
  }

  /** A hole is seen in a solid body, the air within it only where the body is as if of glass. */
  private static boolean isHollowOrFilled(Shape shape, Set<ConceptId> glass, Glossary glossary) {
    boolean inGlass = glossary.get(shape.part()).partOf().filter(glass::contains).isPresent();
    return shape.material() == Material.VOID ? !inGlass : shape.material() != Material.AIR || inGlass;
  }

  /** Of each axis that the shape mentions, the chosen variant must be among those it mentions. */
  private static boolean occurs(Shape shape, Glossary glossary, Set<String> variants) {
    Set<String> mentioned = new HashSet<>();
    Set<String> matched = new HashSet<>();
    for (Variant v : glossary.variants()) {
      if (shape.variants().contains(v.id())) {
        mentioned.add(v.axis());
        if (variants.contains(v.id())) {
          matched.add(v.axis());
        }
      }
    }
    return matched.containsAll(mentioned);
  }

  private static Set<ConceptId> within(Iterable<ConceptId> roots, Glossary glossary) {
    Set<ConceptId> all = new HashSet<>();
    for (ConceptId root : roots) {
      all.add(root);
      glossary.allWithin(root).forEach(c -> all.add(c.id()));
    }
    return all;
  }

  private static Map<ConceptId, Vec> movesOf(View view, Glossary glossary) {
    Map<ConceptId, Vec> moved = new LinkedHashMap<>();
    for (View.Move move : view.moves()) {
      within(move.parts(), glossary).forEach(p -> moved.merge(p, move.by(), Vec::plus));
    }
    return moved;
  }

  private void markGhosts(View view, List<Shape> shapes, Glossary glossary) {
    Set<ConceptId> glass = within(view.ghosts(), glossary);
    shapes.stream()
        .filter(s -> s.material() == Material.AIR && !view.ghosts().contains(s.part()))
        .forEach(s -> glass.remove(s.part()));
    for (int i = 0; i < parts.size(); i++) {
      if (glass.contains(parts.get(i))) {
        ghosts.add(i);
      }
    }
  }

  /** A line from where the moved parts' middle was to where it is; moves of the same parts follow one another. */
  private void findTravels(View view, List<Shape> chosen, Glossary glossary) {
    for (View.Move move : view.moves()) {
      Set<ConceptId> group = within(move.parts(), glossary);
      List<Shape> shapes = chosen.stream().filter(s -> group.contains(s.part())).toList();
      if (move.line() && !shapes.isEmpty()) {
        Vec middle = Bounds.middle(shapes);
        travels.add(new Travel(projection.point(middle), projection.point(middle.plus(move.by()))));
      }
    }
  }

  private double bufferFactor() {
    return Math.min(0.6, Math.sqrt(BUFFER_PIXELS / (Studio.WIDTH * height)));
  }

  private Raster paint(List<Piece> all, double factor) {
    Raster raster =
        new Raster((int) Math.ceil(Studio.WIDTH * factor) + 1, (int) Math.ceil(height * factor) + 1);
    for (int i = 0; i < all.size(); i++) {
      Skin.paint(all.get(i), i, factor, raster);
    }
    return raster;
  }

  private Map<ConceptId, Visible> seenBy(VisibilityMap map, Glossary glossary) {
    Map<ConceptId, Visible> found = new LinkedHashMap<>();
    for (int i = 0; i < parts.size(); i++) {
      found.put(parts.get(i), map.of(List.of(i)));
    }
    wholesOf(glossary).forEach((whole, own) -> found.put(whole, map.of(own)));
    return Collections.unmodifiableMap(found);
  }

  /** The drawn wholes without a shape of their own, with the numbers of their parts. */
  private Map<ConceptId, List<Integer>> wholesOf(Glossary glossary) {
    Map<ConceptId, List<Integer>> wholes = new LinkedHashMap<>();
    Set<ConceptId> shaped = new HashSet<>(parts);
    for (int i = 0; i < parts.size(); i++) {
      for (Concept whole : glossary.wholesOf(parts.get(i))) {
        if (whole.drawn() && !shaped.contains(whole.id())) {
          wholes.computeIfAbsent(whole.id(), w -> new ArrayList<>()).add(i);
        }
      }
    }
    return wholes;
  }

  List<ConceptId> parts() {
    return List.copyOf(parts);
  }

  boolean isGhost(int part) {
    return ghosts.contains(part);
  }

  List<Travel> travels() {
    return travels;
  }

  List<Piece> pieces() {
    return pieces;
  }

  double height() {
    return height;
  }

  Projection projection() {
    return projection;
  }

  /**
   * How much of each part is seen, and of each drawn whole that has no shape of its own; ghosts hide nothing and are
   * seen where nothing solid is.
   */
  Map<ConceptId, Visible> seen() {
    return seen;
  }
}

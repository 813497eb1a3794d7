package ferrule.drawing;

import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
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
  private static final double ORDER_FACTOR = 0.6;

  /** A way that parts travelled, on the picture. */
  record Travel(Vec from, Vec to) {}

  private final List<ConceptId> parts = new ArrayList<>();
  private final Set<Integer> ghosts = new HashSet<>();
  private final List<Travel> travels = new ArrayList<>();
  private final Projection projection;
  private final double height;
  private final List<Piece> pieces;

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
    Map<ConceptId, Integer> numbers = new LinkedHashMap<>();
    List<Piece> all = new ArrayList<>();
    for (Shape s : placed) {
      int number = numbers.computeIfAbsent(s.part(), p -> {
        parts.add(p);
        return parts.size() - 1;
      });
      all.addAll(cutter.pieces(number, s, projection));
    }
    markGhosts(view, placed, glossary);
    findTravels(view, chosen, glossary);
    pieces = List.copyOf(DepthOrder.of(visible(all), Studio.WIDTH, height, ORDER_FACTOR));
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
    List<Shape> chosen = instrument.shapes().stream()
        .filter(s -> shown.isEmpty() || shown.contains(s.part()))
        .filter(s -> !hidden.contains(s.part()))
        .filter(s -> occurs(s, glossary, variants))
        .filter(s -> isHollowOrFilled(s, within(view.ghosts(), glossary), glossary))
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

  private static boolean occurs(Shape shape, Glossary glossary, Set<String> variants) {
    return glossary.variants().stream()
        .filter(v -> shape.variants().contains(v.id()))
        .map(v -> v.axis())
        .distinct()
        .allMatch(axis -> glossary.variants().stream()
            .anyMatch(v -> v.axis().equals(axis)
                && shape.variants().contains(v.id()) && variants.contains(v.id())));
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
    shapes.stream().filter(s -> s.material() == Material.AIR).forEach(s -> glass.remove(s.part()));
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

  /** Leaves out what lies wholly behind something else. */
  private List<Piece> visible(List<Piece> all) {
    List<Integer> solid = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      if (!ghosts.contains(all.get(i).part())) {
        solid.add(i);
      }
    }
    boolean[] covered = new boolean[all.size()];
    boolean[] seen = new boolean[all.size()];
    Raster raster = new Raster((int) (Studio.WIDTH * ORDER_FACTOR) + 1, (int) (height * ORDER_FACTOR) + 1);
    solid.forEach(i -> Skin.paint(all.get(i), i, ORDER_FACTOR, raster));
    raster.forEachPixel((pixel, n, numbers, depth) -> {
      for (int k = 0; k < n; k++) {
        covered[numbers[k]] = true;
      }
      seen[numbers[n - 1]] = true;
    });
    List<Piece> kept = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      if (seen[i] || !covered[i]) {
        kept.add(all.get(i));
      }
    }
    return kept;
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

  /** How much of each part is seen; ghosts hide nothing and are seen where nothing solid is. */
  VisibilityMap visibility() {
    List<Piece> solid = pieces.stream().filter(p -> !ghosts.contains(p.part())).toList();
    List<Piece> glass = pieces.stream().filter(p -> ghosts.contains(p.part())).toList();
    return new VisibilityMap(solid, glass, parts.size(), Studio.WIDTH, height);
  }
}

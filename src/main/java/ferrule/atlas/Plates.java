package ferrule.atlas;

import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.drawing.Visible;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Chooses the views in which a part, an assembly or all parts of a kind are shown, the most telling one first.
 *
 * <p>The views that were made for an assembly come before all others. A part is shown where it belongs: in the views
 * that were made for it or for the nearest whole that has any, then in all others; among equals by the area that is
 * seen of it, times the share of it that is not hidden. Views of another model than the usual one come last.
 */
public final class Plates {

  /** The least visible area, in square px at the usual width, for a view to count as showing a part. */
  static final double LEAST_AREA = 60;

  private final Studio studio;
  private final Glossary glossary;

  /** Chooses among the views of a studio. */
  public Plates(Studio studio, Glossary glossary) {
    this.studio = studio;
    this.glossary = glossary;
  }

  /**
   * One variant of each axis: those chosen, and of an axis without a choice the first; but always such that the concept
   * occurs.
   *
   * @param chosen ids of variants; ids that there are not are passed over
   */
  public Set<String> variantsFor(Concept concept, Collection<String> chosen) {
    Map<String, String> byAxis = new LinkedHashMap<>();
    for (Variant v : glossary.variants()) {
      byAxis.putIfAbsent(v.axis(), v.id());
      if (chosen.contains(v.id())) {
        byAxis.put(v.axis(), v.id());
      }
    }
    for (Variant v : glossary.variants()) {
      boolean excluded = !glossary.occursIn(concept.id(), Set.of(byAxis.get(v.axis())));
      if (excluded && concept.variants().contains(v.id())) {
        byAxis.put(v.axis(), v.id());
      }
    }
    return new LinkedHashSet<>(byAxis.values());
  }

  /**
   * The views that show a concept or something of it, the most telling first; empty if none does. They are judged on
   * the usual model, or the one nearest to it that has the concept: what is seen of a part hardly depends on the rest,
   * and every model more would have to be worked out in all views.
   */
  public List<View> showing(Concept concept) {
    Set<ConceptId> pieces = shapesOf(concept);
    Set<String> variants = variantsFor(concept, List.of());
    Map<String, Double> clear = new LinkedHashMap<>();
    List<View> found = new ArrayList<>();
    for (View view : studio.views()) {
      Map<ConceptId, Visible> visible = studio.visible(view.id(), variants);
      List<Visible> seen = pieces.stream().filter(visible::containsKey).map(visible::get).toList();
      // what stands half behind other parts tells less than its area says
      clear.put(view.id(), seen.stream().mapToDouble(v -> v.areaPx() * v.fraction()).sum());
      if (seen.stream().mapToDouble(Visible::areaPx).sum() >= LEAST_AREA) {
        found.add(view);
      }
    }
    List<ConceptId> rooms = roomsOf(concept);
    Comparator<View> usualFirst = Comparator.comparing(view -> isOfOtherModel(view, variants));
    Comparator<View> nearestFirst = Comparator.comparingInt(view -> nearness(view, rooms));
    Comparator<View> clearestFirst = Comparator.comparingDouble(view -> -clear.get(view.id()));
    // the views of the concept itself stay in the order in which they were written
    Comparator<View> order =
        usualFirst.thenComparing(nearestFirst).thenComparing(
            (a, b) -> nearness(a, rooms) == 0 && nearness(b, rooms) == 0 ? 0 : clearestFirst.compare(a, b));
    return found.stream().sorted(order).toList();
  }

  /** The concept and its wholes, nearest first, the whole instrument left out unless it is the concept. */
  private List<ConceptId> roomsOf(Concept concept) {
    List<ConceptId> rooms = new ArrayList<>(List.of(concept.id()));
    glossary.wholesOf(concept.id()).stream()
        .filter(whole -> whole.partOf().isPresent())
        .forEach(whole -> rooms.add(whole.id()));
    return rooms;
  }

  private int nearness(View view, List<ConceptId> rooms) {
    boolean isOfWholeInstrument = glossary.get(rooms.get(0)).partOf().isEmpty() && view.assembly().isEmpty();
    int at = isOfWholeInstrument ? 0 : view.assembly().map(rooms::indexOf).orElse(-1);
    return at < 0 ? rooms.size() : at;
  }

  private boolean isOfOtherModel(View view, Set<String> variants) {
    return !variants.containsAll(view.variants());
  }

  /** What can stand for a concept in a drawing: itself, what belongs to it, and for a kind all parts of the kind. */
  public Set<ConceptId> shapesOf(Concept concept) {
    Set<ConceptId> shapes = new LinkedHashSet<>();
    if (concept.level() == Level.KIND) {
      glossary.nameable().stream()
          .filter(c -> glossary.kindsOf(c.id()).contains(concept))
          .forEach(c -> shapes.addAll(shapesOf(c)));
      return shapes;
    }
    shapes.add(concept.id());
    glossary.allWithin(concept.id()).forEach(c -> shapes.add(c.id()));
    return shapes;
  }
}

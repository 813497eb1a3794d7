package ferrule.drill.paper;

import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.drawing.Visible;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Puts the items of a worksheet on few drawings, because each takes a third of a page.
 *
 * <p>On a screen every item has the drawing that shows its part best. On paper a part that is large enough beside the
 * others shares theirs: the view that shows the most parts is taken first, then the one that shows the most of the rest,
 * and so on (the greedy rule for set cover; Chvátal 1979, "A greedy heuristic for the set-covering problem"). A part that
 * no such view shows keeps the drawing that it has.
 */
final class FewDrawings {

  /** The most numbers that one drawing can carry and still be read at a glance. Common practice, no source. */
  static final int MOST_NUMBERS = 16;

  /** The least visible area, in px² of a drawing 1,000 px wide: a square of 3 mm in print. */
  private static final double LEAST_AREA = 290;

  /** The least share of a part that is to be seen: where much stands in front, a leader's end could mean that. */
  private static final double LEAST_SHARE = 0.55;

  private final Studio studio;
  private final Glossary glossary;

  FewDrawings(Studio studio, Glossary glossary) {
    this.studio = studio;
    this.glossary = glossary;
  }

  /** A view with what it shows of the wanted parts. */
  private record Candidate(View view, Set<String> variants, Set<ConceptId> shows) {}

  /** The same items in the same order, on fewer drawings. */
  List<Item> of(List<Item> items) {
    Map<ConceptId, Candidate> taken = new LinkedHashMap<>();
    Set<ConceptId> rest = new LinkedHashSet<>(items.stream().filter(FewDrawings::mayMove).map(Item::key).toList());
    List<Candidate> candidates = candidates(rest);
    while (true) {
      Candidate best = null;
      for (Candidate c : candidates) {
        best = best == null || count(c, rest) > count(best, rest) ? c : best;
      }
      if (best == null || count(best, rest) < 2) {
        break;
      }
      Candidate view = best;
      rest.stream().filter(view.shows()::contains).limit(MOST_NUMBERS).toList().forEach(part -> {
        taken.put(part, view);
        rest.remove(part);
      });
      candidates.remove(view);
    }
    return items.stream()
        .map(i -> mayMove(i) && taken.containsKey(i.key()) ? on(taken.get(i.key()), i) : i)
        .toList();
  }

  /** Whether the question stays the same on another drawing: one that was written for what its drawing shows does not. */
  private static boolean mayMove(Item item) {
    return item.kind() == ItemKind.NAME || item.kind() == ItemKind.FIND;
  }

  private static long count(Candidate c, Set<ConceptId> rest) {
    return Math.min(MOST_NUMBERS, rest.stream().filter(c.shows()::contains).count());
  }

  private List<Candidate> candidates(Set<ConceptId> parts) {
    List<Candidate> candidates = new ArrayList<>();
    for (View view : studio.views()) {
      Set<String> variants = studio.variantsOf(view, Set.of());
      Map<ConceptId, Visible> seen = studio.visible(view.id(), variants);
      Set<ConceptId> shows = new HashSet<>();
      for (ConceptId part : parts) {
        Visible v = seen.get(part);
        if (v != null && v.areaPx() >= LEAST_AREA && v.fraction() >= LEAST_SHARE && tells(view, part)) {
          shows.add(part);
        }
      }
      candidates.add(new Candidate(view, variants, shows));
    }
    // of two that show as many parts, the whole instrument: only it tells a third slide from a second
    candidates.sort(Comparator.comparing(c -> c.view().assembly().isPresent()));
    return candidates;
  }

  /** Whether a view can tell a part from its look-alikes: the whole can, and so can the assembly that it belongs to. */
  private boolean tells(View view, ConceptId part) {
    return view.assembly().isEmpty()
        || view.assembly().filter(a -> glossary.allWithin(a).stream().map(Concept::id).anyMatch(part::equals)).isPresent();
  }

  private static Item on(Candidate c, Item i) {
    return new Item(
        i.position(), i.kind(), i.key(), c.view().id(), c.variants(), i.pictureSeed(), i.lit(), i.interaction());
  }
}

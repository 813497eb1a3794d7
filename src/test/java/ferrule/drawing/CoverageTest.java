package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Variant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;

class CoverageTest {

  private static final double ENOUGH_TO_ASK_ABOUT = 400;

  /** The first variant of each axis, and then each other variant in its turn. */
  private static List<Set<String>> choices() {
    Map<String, List<String>> axes = new HashMap<>();
    for (Variant v : Trumpet.GLOSSARY.variants()) {
      axes.computeIfAbsent(v.axis(), a -> new ArrayList<>()).add(v.id());
    }
    Set<String> others = new HashSet<>();
    axes.values().forEach(ids -> others.addAll(ids.subList(1, ids.size())));
    return List.of(Set.of(), others);
  }

  @Test
  void everyDrawnPartIsSeenInTwoViewsAndLargeInOne() {
    Map<ConceptId, Set<String>> seenIn = new HashMap<>();
    Map<ConceptId, Double> largest = new HashMap<>();
    for (Set<String> choice : choices()) {
      for (View view : Trumpet.STUDIO.views()) {
        Trumpet.STUDIO.visible(view.id(), choice).forEach((part, visible) -> {
          if (visible.areaPx() > 0) {
            seenIn.computeIfAbsent(part, p -> new HashSet<>()).add(view.id());
            largest.merge(part, visible.areaPx(), Math::max);
          }
        });
      }
    }
    Set<String> lacking = new LinkedHashSet<>();
    for (Concept c : Trumpet.GLOSSARY.concepts()) {
      int views = seenIn.getOrDefault(c.id(), Set.of()).size();
      double area = largest.getOrDefault(c.id(), 0.0);
      if (c.drawn() && (views < 2 || area < ENOUGH_TO_ASK_ABOUT)) {
        lacking.add(c.id() + ": in " + views + " views, largest " + area + " square px");
      }
    }
    assertEquals(Set.of(), lacking);
  }

  @Test
  void anchorsLieOnTheVisiblePart() {
    Trumpet.STUDIO.visible("players-right", Set.of()).forEach((part, visible) -> {
      if (visible.areaPx() > 0) {
        assertEquals(true, visible.fraction() > 0 && visible.fraction() <= 1, part + " " + visible);
        assertEquals(true, visible.anchor().x() > 0 && visible.anchor().x() < Studio.WIDTH, part + " " + visible);
      }
    });
  }
}

package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.Instrument.Pair;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

class InterpenetrationTest {

  private static final Instrument TRUMPET = Trumpet.INSTRUMENT;
  private static final double DEEP_MM = 0.3;

  /** Whether the model or the glossary says that two parts are joined, or one is mounted on the other. */
  private static boolean mayTouch(ConceptId a, ConceptId b) {
    return a.equals(b)
        || TRUMPET.joints().stream().anyMatch(p -> isPair(p, a, b))
        || TRUMPET.slides().stream().anyMatch(p -> isPair(p, a, b))
        || TRUMPET.contacts().stream().anyMatch(p -> isPair(p, a, b))
        || isTiedTo(a, b)
        || isTiedTo(b, a);
  }

  private static boolean isTiedTo(ConceptId a, ConceptId b) {
    Concept c = Trumpet.GLOSSARY.get(a);
    return c.connects().contains(b) || c.carries().contains(b) || c.joins().contains(b)
        || c.partOf().filter(b::equals).isPresent();
  }

  private static boolean isPair(Pair p, ConceptId a, ConceptId b) {
    return p.a().equals(a) && p.b().equals(b) || p.a().equals(b) && p.b().equals(a);
  }

  private static boolean haveSharedVariant(Shape a, Shape b) {
    Set<String> both = new HashSet<>(a.variants());
    both.retainAll(b.variants());
    return a.variants().isEmpty() || b.variants().isEmpty() || !both.isEmpty();
  }

  private static List<Shape> solid() {
    return TRUMPET.shapes().stream()
        .filter(s -> s.material() != Material.AIR && s.material() != Material.VOID)
        .toList();
  }


  @Test
  void noTwoBodiesPassThroughEachOtherUnlessDeclared() {
    List<Shape> bodies = solid();
    assertTrue(bodies.stream().filter(s -> s.solid() instanceof Sweep).count() >= 100, "round bodies");
    assertTrue(bodies.stream().filter(s -> s.solid() instanceof Facets).count() >= 30, "flat bodies");
    Set<String> clashes = new TreeSet<>();
    for (int i = 0; i < bodies.size(); i++) {
      for (int k = i + 1; k < bodies.size(); k++) {
        Shape a = bodies.get(i);
        Shape b = bodies.get(k);
        if (!mayTouch(a.part(), b.part()) && haveSharedVariant(a, b)) {
          double depth = Overlap.of(a.solid(), b.solid());
          if (depth > DEEP_MM) {
            clashes.add("[" + a.part() + ", " + b.part() + "] # " + Math.round(depth * 10) / 10.0);
          }
        }
      }
    }
    assertEquals("", String.join("\n", clashes));
  }

  /** The third slide is thrown by its whole travel, in steps, and touches nothing that stays on the instrument. */
  @Test
  void theThirdSlideTravelsWithoutHittingAnything() {
    Set<ConceptId> moving = new HashSet<>();
    Trumpet.GLOSSARY.allWithin(ConceptId.of("third-slide-assembly")).forEach(c -> moving.add(c.id()));
    // two parts of the stop stay on the instrument
    moving.remove(ConceptId.of("third-slide-stop-bracket"));
    moving.remove(ConceptId.of("third-slide-stop-screw"));
    List<Shape> slide = solid().stream().filter(s -> moving.contains(s.part())).toList();
    List<Shape> fixed = solid().stream().filter(s -> !moving.contains(s.part())).toList();
    Set<String> hits = new TreeSet<>();
    double travel = TRUMPET.dimensions().get("thirdTravel");
    for (double by = 0; by <= travel - 0.5; by += 5.5) {
      for (Shape s : slide) {
        Solid thrown = s.solid().moved(new Vec(by, 0, 0));
        for (Shape f : fixed) {
          if (!mayTouch(s.part(), f.part()) && haveSharedVariant(s, f) && Overlap.of(thrown, f.solid()) > 0.1) {
            hits.add(s.part() + " hits " + f.part());
          }
        }
      }
    }
    assertEquals("", String.join("\n", hits));
  }
}

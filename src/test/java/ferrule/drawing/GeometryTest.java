package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.Instrument.Pair;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class GeometryTest {

  private static final Instrument TRUMPET = Trumpet.INSTRUMENT;
  private static final Dimensions D = TRUMPET.dimensions();

  private static List<Sweep> sweeps(ConceptId part) {
    List<Sweep> found = new ArrayList<>();
    for (Shape s : TRUMPET.shapes()) {
      if (s.part().equals(part) && s.solid() instanceof Sweep sweep) {
        found.add(sweep);
      }
    }
    return found;
  }

  private static Sweep tubeOf(ConceptId part) {
    return sweeps(part).get(0);
  }

  private static double distanceToAxis(Vec p, Sweep sweep) {
    double best = Double.MAX_VALUE;
    for (int i = 0; i + 1 < sweep.stations().size(); i++) {
      Vec a = sweep.stations().get(i).at();
      Vec way = sweep.stations().get(i + 1).at().minus(a);
      double l = way.dot(way);
      double share = l == 0 ? 0 : Math.max(0, Math.min(1, p.minus(a).dot(way) / l));
      best = Math.min(best, p.distance(a.plus(way.times(share))));
    }
    return best;
  }

  private static Vec first(Sweep s) {
    return s.stations().get(0).at();
  }

  private static Vec last(Sweep s) {
    return s.stations().get(s.stations().size() - 1).at();
  }

  @Test
  void tubesMeetWhereTheyJoin() {
    assertTrue(TRUMPET.joints().size() >= 34, "joints: " + TRUMPET.joints().size());
    for (Pair joint : TRUMPET.joints()) {
      Sweep a = tubeOf(joint.a());
      Sweep b = tubeOf(joint.b());
      double gap = Math.min(
          Math.min(distanceToAxis(first(a), b), distanceToAxis(last(a), b)),
          Math.min(distanceToAxis(first(b), a), distanceToAxis(last(b), a)));
      assertTrue(gap <= 0.2, joint + " is " + gap + " mm apart");
    }
  }

  @Test
  void slidesLieWithinTheirOuterTubesAndParallelToThem() {
    assertEquals(8, TRUMPET.slides().size());
    for (Pair slide : TRUMPET.slides()) {
      Sweep inner = tubeOf(slide.a());
      Sweep outer = tubeOf(slide.b());
      assertTrue(inner.stations().get(0).radius() < outer.startBore(), slide + ": the inner tube is too wide");
      Vec axis = outer.stations().get(0).along();
      for (Vec end : List.of(first(inner), last(inner))) {
        Vec off = end.minus(first(outer));
        double aside = off.minus(axis.times(off.dot(axis))).length();
        assertTrue(aside <= 0.1, slide + " is " + aside + " mm off its axis");
      }
    }
  }

  /** The way of the air runs along the axes of the tubes that lead it, so that its length is the instrument's. */
  @Test
  void theAirRunsInTheMiddleOfTheTubes() {
    for (String way : List.of("open", "first.detour", "second.detour", "third.detour")) {
      Course course = TRUMPET.airway().get(way);
      for (double mm = 0; mm <= course.length(); mm += 1.5) {
        Vec p = course.at(mm);
        if (!isWithinACasing(p)) {
          double aside = TRUMPET.shapes().stream()
              .filter(s -> s.solid() instanceof Sweep)
              .mapToDouble(s -> distanceToAxis(p, (Sweep) s.solid()))
              .min().orElseThrow();
          assertTrue(aside <= 0.2, way + " at " + mm + " mm is " + aside + " mm from the nearest axis");
        }
      }
    }
  }

  private static boolean isWithinACasing(Vec p) {
    return List.of("casing1", "casing2", "casing3").stream()
        .anyMatch(c -> Math.hypot(p.x() - D.get(c), p.z()) < D.get("casingRadius"));
  }

  /** Overall length about 19 in, bell 4.5 to 5 in, bore 0.459 in: general reference pages; within 5 %. */
  @Test
  void theSilhouetteHasTheProportionsOfThePublishedOnes() {
    Bounds side = Bounds.of(TRUMPET.shapes().stream().filter(s -> s.material() != Material.AIR).toList(),
        Camera.from(new Vec(0, 0, 1), new Vec(0, 1, 0)));
    assertEquals(19 * 25.4, side.width(), 0.05 * 19 * 25.4);
    double bell = 2 * tubeOf(ConceptId.of("bell-rim")).stations().stream()
        .mapToDouble(Station::radius).max().orElseThrow();
    assertEquals(4.75 * 25.4, bell, 0.05 * 4.75 * 25.4);
    Sweep inner = tubeOf(ConceptId.of("third-slide-lower-inner-tube"));
    assertEquals(0.459 * 25.4, 2 * inner.startBore(), 0.05 * 0.459 * 25.4);
  }

  /** Casings stand about an inch apart and an instrument's valve section is about as high as its bell (by eye). */
  @Test
  void casingsStandAnInchApart() {
    assertEquals(25.4, D.get("casing2") - D.get("casing1"), 0.05 * 25.4);
    assertEquals(25.4, D.get("casing3") - D.get("casing2"), 0.05 * 25.4);
  }

  /** A port must be clear of its knuckle when the piston is down: the stroke is more than the bore (common practice). */
  @Test
  void theStrokeIsMoreThanTheBore() {
    assertTrue(D.get("stroke") > D.get("bore") + 1);
  }
}

package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.Instrument.Pair;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
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

  /** A point of a body's surface, with the axis that it goes round. */
  private record Skin(Vec at, Vec middle, Vec axis, double radius) {}

  private static List<Skin> skin(Sweep sweep) {
    List<Skin> points = new ArrayList<>();
    for (int i = 0; i + 1 < sweep.stations().size(); i++) {
      Station a = sweep.stations().get(i);
      Station b = sweep.stations().get(i + 1);
      int parts = Math.max(1, (int) Math.ceil(a.at().distance(b.at()) / 2));
      Vec side = a.along().anyNormal();
      for (int k = 0; k <= parts; k++) {
        double share = (double) k / parts;
        Vec middle = a.at().times(1 - share).plus(b.at().times(share));
        double radius = a.radius() * (1 - share) + b.radius() * share;
        for (int n = 0; n < 12; n++) {
          Vec out = side.turned(a.along(), Math.PI * n / 6).times(radius);
          points.add(new Skin(middle.plus(out), middle, a.along(), radius));
        }
      }
    }
    return points;
  }

  /** How deep points of one body lie in another; a tube within the bore of a tube on the same axis lies in no metal. */
  private static double depthIn(List<Skin> points, Sweep body) {
    double worst = 0;
    for (int i = 0; i + 1 < body.stations().size(); i++) {
      Station a = body.stations().get(i);
      Station b = body.stations().get(i + 1);
      double length = a.at().distance(b.at());
      if (length < 1e-6) {
        continue;
      }
      Vec axis = b.at().minus(a.at()).times(1 / length);
      for (Skin p : points) {
        double along = p.at.minus(a.at()).dot(axis);
        double radius = a.radius() + (b.radius() - a.radius()) * along / length;
        if (along > 0.05 && along < length - 0.05) {
          double aside = p.at.minus(a.at()).minus(axis.times(along)).length();
          boolean onItsAxis = Math.abs(p.axis.dot(axis)) > 0.99
              && p.middle.minus(a.at()).minus(axis.times(p.middle.minus(a.at()).dot(axis))).length() < 0.1;
          boolean inBore = onItsAxis && Math.min(body.startBore(), body.endBore()) >= p.radius - 1e-6;
          if (!inBore) {
            worst = Math.max(worst, Math.min(radius - aside, p.radius));
          }
        }
      }
    }
    return worst;
  }

  private static double overlap(Sweep a, Sweep b) {
    Vec middle = a.stations().get(a.stations().size() / 2).at();
    double reach = reach(a, middle) + reach(b, b.stations().get(b.stations().size() / 2).at());
    if (middle.distance(b.stations().get(b.stations().size() / 2).at()) > reach) {
      return 0;
    }
    return Math.max(depthIn(skin(a), b), depthIn(skin(b), a));
  }

  private static double reach(Sweep s, Vec from) {
    return s.stations().stream().mapToDouble(x -> x.at().distance(from) + x.radius()).max().orElseThrow();
  }

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

  private static List<Shape> round() {
    return TRUMPET.shapes().stream()
        .filter(s -> s.solid() instanceof Sweep && s.material() != Material.AIR)
        .toList();
  }

  @Test
  void noTwoRoundBodiesPassThroughEachOtherUnlessDeclared() {
    List<Shape> bodies = round();
    assertTrue(bodies.size() >= 100, "bodies: " + bodies.size());
    Set<String> clashes = new TreeSet<>();
    for (int i = 0; i < bodies.size(); i++) {
      for (int k = i + 1; k < bodies.size(); k++) {
        Shape a = bodies.get(i);
        Shape b = bodies.get(k);
        if (!mayTouch(a.part(), b.part()) && haveSharedVariant(a, b)) {
          double depth = overlap((Sweep) a.solid(), (Sweep) b.solid());
          if (depth > 0.3) {
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
    List<Shape> slide = round().stream().filter(s -> moving.contains(s.part())).toList();
    List<Shape> fixed = round().stream().filter(s -> !moving.contains(s.part())).toList();
    Set<String> hits = new TreeSet<>();
    for (double by = 0; by <= D.get("thirdTravel") - 0.5; by += 5.5) {
      for (Shape s : slide) {
        Sweep thrown = ((Sweep) s.solid()).moved(new Vec(by, 0, 0));
        for (Shape f : fixed) {
          if (!mayTouch(s.part(), f.part()) && haveSharedVariant(s, f)
              && overlap(thrown, (Sweep) f.solid()) > 0.1) {
            hits.add(s.part() + " hits " + f.part());
          }
        }
      }
    }
    assertEquals("", String.join("\n", hits));
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

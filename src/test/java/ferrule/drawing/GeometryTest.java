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

  private static Bounds seenFromTheSide(List<Shape> shapes) {
    return Bounds.of(shapes, Camera.from(new Vec(0, 0, 1), new Vec(0, 1, 0)));
  }

  /**
   * Without the mouthpiece about 19 in, 48 cm ("Standard dimensions of trumpet", ofstandard.com, read) or about 49 cm
   * ("Pocket trumpet", memim.com, read); within 5 % of both.
   */
  @Test
  void theTrumpetIsAsLongAsPublished() {
    double length =
        seenFromTheSide(TRUMPET.shapes().stream().filter(s -> s.material() != Material.AIR).toList()).width();
    assertEquals(480, length, 0.05 * 480);
    assertEquals(490, length, 0.05 * 490);
  }

  /** Bells are 4.5 to 5 in across (the same page on standard dimensions, read): within 5 % of the middle. */
  @Test
  void theBellIsAsWideAsPublished() {
    double bell = 2 * tubeOf(ConceptId.of("bell-rim")).stations().stream()
        .mapToDouble(Station::radius).max().orElseThrow();
    assertEquals(4.75 * 25.4, bell, 0.05 * 4.75 * 25.4);
  }

  /** 0.459 in, measured at the inner slide tubes (common practice, quoted). */
  @Test
  void innerTubesHaveTheBore() {
    for (String part : List.of("main-slide-upper-inner-tube", "third-slide-lower-inner-tube")) {
      assertEquals(0.459 * 25.4, 2 * tubeOf(ConceptId.of(part)).startBore(), 0.05 * 0.459 * 25.4, part);
    }
  }

  /** Casings stand about an inch apart: common practice, no source; no published figure was found. */
  @Test
  void casingsStandAnInchApart() {
    assertEquals(25.4, D.get("casing2") - D.get("casing1"), 0.05 * 25.4);
    assertEquals(25.4, D.get("casing3") - D.get("casing2"), 0.05 * 25.4);
  }

  /**
   * A casing with its baluster is about three and three quarter inches high, four fifths of the bell's width: common
   * practice, no source; no published figure was found.
   */
  @Test
  void casingsAreFourFifthsAsHighAsTheBellIsWide() {
    double height = seenFromTheSide(TRUMPET.shapes().stream()
        .filter(s -> s.part().equals(ConceptId.of("second-casing")) || s.part().equals(ConceptId.of("second-baluster")))
        .toList()).height();
    assertEquals(3.75 * 25.4, height, 0.05 * 3.75 * 25.4);
    assertEquals(0.8 * 2 * D.get("bellRadius"), height, 0.05 * 0.8 * 2 * D.get("bellRadius"));
  }

  /** What is pressed must have room: the piston, a stroke lower, stays in its casing and above the bottom cap. */
  @Test
  void aPressedPistonHasRoomAboveTheBottomCap() {
    for (String valve : List.of("first", "second", "third")) {
      double lowest = lowest(valve + "-piston") - D.get("stroke");
      assertTrue(lowest > lowest(valve + "-bottom-cap") + 1, valve + ": " + lowest);
    }
  }

  private static double lowest(String part) {
    return sweeps(ConceptId.of(part)).stream()
        .flatMap(s -> s.stations().stream()).mapToDouble(s -> s.at().y()).min().orElseThrow();
  }

  /** The main tuning slide ends behind the bell's rim by less than a bell's width (common practice, no source). */
  @Test
  void theMainSlideEndsWellBehindTheRim() {
    double end = D.get("mainX") + D.get("mainRadius") + D.get("innerOuter") / 2;
    double behind = D.get("rimX") - end;
    assertTrue(behind > 45 && behind < 2 * D.get("bellRadius"), "behind the rim by " + behind + " mm");
  }

  /** A port must be clear of its knuckle when the piston is down: the stroke is more than the bore (common practice). */
  @Test
  void theStrokeIsMoreThanTheBore() {
    assertTrue(D.get("stroke") > D.get("bore") + 1);
  }
}

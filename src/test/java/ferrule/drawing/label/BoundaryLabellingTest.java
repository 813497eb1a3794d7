package ferrule.drawing.label;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;

class BoundaryLabellingTest {

  private static final Box FRAME = new Box(0, 0, 1000, 400);
  private static final List<Port> TWO_SIDES = Port.along(FRAME, EnumSet.of(Side.LEFT, Side.RIGHT), 20, 40);
  private static final List<Port> FOUR_SIDES = Port.along(FRAME, EnumSet.allOf(Side.class), 20, 40);

  @Property(tries = 300)
  void leadersNeverMeet(@ForAll("pictures") List<Point> sites) {
    assertNoneMeet(BoundaryLabelling.shortest(FRAME, sites, TWO_SIDES));
    assertNoneMeet(BoundaryLabelling.shortest(FRAME, sites, FOUR_SIDES));
  }

  @Property(tries = 300)
  void leadersNeverMeetEvenWherePartsStandInRowsAndColumns(@ForAll("grids") List<Point> sites) {
    assertNoneMeet(BoundaryLabelling.shortest(FRAME, sites, TWO_SIDES));
    assertNoneMeet(BoundaryLabelling.shortest(FRAME, sites, FOUR_SIDES));
  }

  @Property(tries = 300)
  void everyLabelHasAPlaceOfItsOwn(@ForAll("pictures") List<Point> sites) {
    List<Leader> leaders = BoundaryLabelling.shortest(FRAME, sites, TWO_SIDES);
    assertEquals(sites, leaders.stream().map(Leader::site).toList());
    assertEquals(sites.size(), new HashSet<>(leaders.stream().map(Leader::port).toList()).size());
  }

  @Property(tries = 60)
  void totalLengthIsThatOfTheBestOfAllAssignments(@ForAll("fewSites") List<Point> sites, @ForAll long seed) {
    List<Port> ports = new ArrayList<>(FOUR_SIDES);
    Collections.shuffle(ports, new Random(seed));
    List<Port> some = ports.subList(0, 9);
    double best = bestOfAll(sites, some, 0, new boolean[some.size()]);
    double found = BoundaryLabelling.shortest(FRAME, sites, some).stream().mapToDouble(Leader::length).sum();
    assertEquals(best, found, 1e-9 * (1 + best));
  }

  @Property(tries = 100)
  void theOrderInWhichPartsAreListedChangesNothing(@ForAll("grids") List<Point> sites, @ForAll long seed) {
    List<Point> shuffled = new ArrayList<>(sites);
    Collections.shuffle(shuffled, new Random(seed));
    assertEquals(
        new HashSet<>(BoundaryLabelling.shortest(FRAME, sites, FOUR_SIDES)),
        new HashSet<>(BoundaryLabelling.shortest(FRAME, shuffled, FOUR_SIDES)));
  }

  @Test
  void aPointOnTheLeftIsLabelledOnTheLeftAtItsHeight() {
    List<Port> ports = List.of(new Port(Side.LEFT, new Point(0, 100)), new Port(Side.RIGHT, new Point(1000, 100)));
    List<Leader> leaders = BoundaryLabelling.shortest(FRAME, List.of(new Point(300, 100)), ports);
    assertEquals(Side.LEFT, leaders.get(0).port().side());
    assertEquals(300, leaders.get(0).length());
  }

  @Test
  void tooFewPlacesAndPointsOutsideAreRefused() {
    List<Point> two = List.of(new Point(1, 1), new Point(2, 2));
    assertThrows(
        IllegalArgumentException.class, () -> BoundaryLabelling.shortest(FRAME, two, TWO_SIDES.subList(0, 1)));
    assertThrows(
        IllegalArgumentException.class,
        () -> BoundaryLabelling.shortest(FRAME, List.of(new Point(-1, 5)), TWO_SIDES));
    assertThrows(
        IllegalArgumentException.class,
        () -> BoundaryLabelling.shortest(FRAME, List.of(new Point(1, 5), new Point(1, 5)), TWO_SIDES));
  }

  @Test
  void theTestForMeetingKnowsCrossingTouchingAndApart() {
    Leader level = new Leader(new Point(10, 10), new Port(Side.LEFT, new Point(0, 10)));
    assertTrue(level.meets(new Leader(new Point(5, 20), new Port(Side.TOP, new Point(5, 0)))), "crossing");
    assertTrue(level.meets(new Leader(new Point(5, 10), new Port(Side.TOP, new Point(5, 0)))), "ends on it");
    assertTrue(level.meets(new Leader(new Point(20, 10), new Port(Side.LEFT, new Point(0, 10)))), "runs along it");
    assertFalse(level.meets(new Leader(new Point(5, 9), new Port(Side.TOP, new Point(5, 0)))), "stops short");
    assertFalse(level.meets(new Leader(new Point(15, 10), new Port(Side.RIGHT, new Point(99, 10)))), "same line");
  }

  private static double bestOfAll(List<Point> sites, List<Port> ports, int from, boolean[] taken) {
    if (from == sites.size()) {
      return 0;
    }
    double best = Double.POSITIVE_INFINITY;
    for (int p = 0; p < ports.size(); p++) {
      if (!taken[p]) {
        taken[p] = true;
        double length = sites.get(from).distanceTo(ports.get(p).at());
        best = Math.min(best, length + bestOfAll(sites, ports, from + 1, taken));
        taken[p] = false;
      }
    }
    return best;
  }

  static void assertNoneMeet(List<Leader> leaders) {
    for (int i = 0; i < leaders.size(); i++) {
      for (int j = 0; j < i; j++) {
        assertFalse(leaders.get(i).meets(leaders.get(j)), leaders.get(i) + " meets " + leaders.get(j));
      }
    }
  }

  @Provide
  Arbitrary<List<Point>> pictures() {
    Arbitrary<Double> x = Arbitraries.doubles().between(0.5, 999.5).ofScale(6);
    Arbitrary<Double> y = Arbitraries.doubles().between(0.5, 399.5).ofScale(6);
    return points(x, y, 36);
  }

  @Provide
  Arbitrary<List<Point>> fewSites() {
    Arbitrary<Double> x = Arbitraries.doubles().between(0.5, 999.5).ofScale(6);
    Arbitrary<Double> y = Arbitraries.doubles().between(0.5, 399.5).ofScale(6);
    return points(x, y, 8);
  }

  @Provide
  Arbitrary<List<Point>> grids() {
    Arbitrary<Double> x = Arbitraries.integers().between(1, 49).map(i -> i * 20.0);
    Arbitrary<Double> y = Arbitraries.integers().between(1, 39).map(i -> i * 10.0);
    return points(x, y, 36);
  }

  private static Arbitrary<List<Point>> points(Arbitrary<Double> x, Arbitrary<Double> y, int most) {
    Arbitrary<Point> point = net.jqwik.api.Combinators.combine(x, y).as(Point::new);
    return point.set().ofMinSize(0).ofMaxSize(most).map(set -> List.copyOf(inOrder(set)));
  }

  private static List<Point> inOrder(Set<Point> points) {
    return points.stream().sorted((a, b) -> Double.compare(a.x() * 7 % 13 + a.y(), b.x() * 7 % 13 + b.y())).toList();
  }
}

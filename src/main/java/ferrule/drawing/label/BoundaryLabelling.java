package ferrule.drawing.label;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Boundary labelling with straight leaders: gives each point of a picture a port on the frame round it, such that the
 * total length of the leaders is the least there is and no two of them meet.
 *
 * <p>The model and the result for straight leaders are those of M. A. Bekos, M. Kaufmann, A. Symvonis and A. Wolff,
 * "Boundary labeling: Models and efficient algorithms for rectangular maps", Computational Geometry 36 (2007)
 * 215-236: with ports that are fixed, a shortest labelling is a matching of least cost between points and ports, the
 * cost being the distance. It cannot cross: were the leaders of two points to meet, letting the two change ports would
 * shorten the sum, by the triangle inequality. The matching is found by shortest augmenting paths (H. W. Kuhn 1955,
 * J. Munkres 1957), in time O(n² m) for n points and m ports. A labelling takes well under a millisecond for the
 * twenty or so labels of an assembly; the faster geometric matchings of the literature would not be noticed.
 *
 * <p>Straight leaders were taken, not the bent ones of the same paper, because a drawing of tubes is full of right
 * angles already: slanted lines are at once seen not to be metal.
 */
public final class BoundaryLabelling {

  // so that the outcome depends on the picture and not on the order in which its parts were listed
  private static final Comparator<Point> READING_ORDER =
      Comparator.comparingDouble(Point::y).thenComparingDouble(Point::x);

  private BoundaryLabelling() {}

  /**
   * The shortest leaders.
   *
   * @param frame the frame that the ports lie on
   * @param sites distinct points inside the frame
   * @param ports distinct ports on the frame, at least as many as there are points
   * @return a leader for each point, in the order of the points
   * @throws IllegalArgumentException if a point lies outside the frame or on it, if two points or two ports coincide,
   *     or if there are too few ports
   */
  public static List<Leader> shortest(Box frame, List<Point> sites, List<Port> ports) {
    check(frame, sites, ports);
    if (sites.isEmpty()) {
      return List.of();
    }
    List<Integer> order =
        IntStream.range(0, sites.size()).boxed().sorted(Comparator.comparing(sites::get, READING_ORDER)).toList();
    double[][] cost = new double[sites.size()][ports.size()];
    for (int row = 0; row < sites.size(); row++) {
      for (int column = 0; column < ports.size(); column++) {
        cost[row][column] = sites.get(order.get(row)).distanceTo(ports.get(column).at());
      }
    }
    int[] matched = LeastCostMatching.of(cost);
    List<Leader> leaders = new ArrayList<>(Collections.nCopies(sites.size(), null));
    for (int row = 0; row < sites.size(); row++) {
      leaders.set(order.get(row), new Leader(sites.get(order.get(row)), ports.get(matched[row])));
    }
    return List.copyOf(leaders);
  }

  private static void check(Box frame, List<Point> sites, List<Port> ports) {
    if (sites.size() > ports.size()) {
      throw new IllegalArgumentException(sites.size() + " labels need as many places, given " + ports.size());
    }
    for (Point site : sites) {
      if (!frame.holds(site)) {
        throw new IllegalArgumentException("a labelled point lies inside the frame " + frame + "; given: " + site);
      }
    }
    if (new HashSet<>(sites).size() < sites.size() || new HashSet<>(ports).size() < ports.size()) {
      throw new IllegalArgumentException("two labelled points or two places of labels are the same");
    }
  }
}

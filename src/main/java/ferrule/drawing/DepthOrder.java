package ferrule.drawing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The order in which pieces are painted so that nearer ones cover farther ones.
 *
 * <p>Idea: the painter's algorithm with division of pieces (Newell, Newell and Sancha 1972), with the question "which of
 * these two is in front" answered not by tests on pairs of polygons but by a small A-buffer: wherever two pieces lie at
 * the same pixel with nothing between them, the nearer must be painted later. That gives a graph of at most a few edges
 * for each piece. If the graph has a cycle (a crook that passes before one leg and behind the other), the tubes in it
 * are halved and looked at again; what still turns in a circle after a few rounds (parts that touch or pass through one
 * another) is broken at the edge that fewest pixels ask for. Among the pieces that may come next, one of the same part
 * as the last is preferred, so that a part stays in few groups; then the farthest.
 *
 * <p>Cost: one step for each pixel that a piece covers, then linear in edges.
 */
final class DepthOrder {

  private static final int ROUNDS = 4;

  private final double factor;
  private final int width;
  private final int height;
  private List<Piece> pieces;
  private List<Map<Integer, Integer>> before;

  private DepthOrder(List<Piece> pieces, double width, double height, double factor) {
    this.factor = factor;
    this.width = (int) Math.ceil(width * factor) + 1;
    this.height = (int) Math.ceil(height * factor) + 1;
    this.pieces = pieces;
  }

  /**
   * The pieces in painting order, some of them divided.
   *
   * @param width the picture's width in px
   * @param height the picture's height in px
   * @param factor pixels of the buffer for each px of the picture, such as 0.5
   */
  static List<Piece> of(List<Piece> pieces, double width, double height, double factor) {
    DepthOrder order = new DepthOrder(List.copyOf(pieces), width, height, factor);
    order.compare();
    for (int round = 0; round < ROUNDS && order.divideCycles(); round++) {
      order.compare();
    }
    return order.sorted();
  }

  /** Fills {@code before}: for each piece, the pieces that lie in front of it and at how many pixels they do. */
  private void compare() {
    Raster raster = new Raster(width, height);
    for (int i = 0; i < pieces.size(); i++) {
      Skin.paint(pieces.get(i), i, factor, raster);
    }
    Map<Long, int[]> counts = new HashMap<>();
    raster.forEachPixel((pixel, n, numbers, depth) -> {
      for (int k = 0; k + 1 < n; k++) {
        counts.computeIfAbsent((long) numbers[k] << 32 | numbers[k + 1], key -> new int[1])[0]++;
      }
    });
    before = new ArrayList<>();
    for (int i = 0; i < pieces.size(); i++) {
      before.add(new HashMap<>());
    }
    counts.forEach((pair, count) -> {
      int far = (int) (pair >> 32);
      int near = (int) (long) pair;
      int[] other = counts.get((long) near << 32 | far);
      int net = count[0] - (other == null ? 0 : other[0]);
      if (net > 0 || net == 0 && far < near) {
        before.get(far).put(near, Math.max(1, net));
      }
    });
  }

  private boolean divideCycles() {
    int[] knot = Knots.of(before);
    int[] size = new int[pieces.size()];
    for (int k : knot) {
      size[k]++;
    }
    List<Piece> divided = new ArrayList<>();
    for (int i = 0; i < pieces.size(); i++) {
      Piece p = pieces.get(i);
      if (size[knot[i]] > 1 && p.isDivisible()) {
        int middle = (p.from() + p.to()) / 2;
        divided.add(new Piece(p.part(), p.material(), p.form(), p.from(), middle));
        divided.add(new Piece(p.part(), p.material(), p.form(), middle, p.to()));
      } else {
        divided.add(p);
      }
    }
    boolean changed = divided.size() > pieces.size();
    pieces = divided;
    return changed;
  }

  private List<Piece> sorted() {
    int n = pieces.size();
    int[] waiting = new int[n];
    double[] depth = new double[n];
    for (int i = 0; i < n; i++) {
      before.get(i).keySet().forEach(near -> waiting[near]++);
      depth[i] = depthOf(pieces.get(i));
    }
    boolean[] done = new boolean[n];
    List<Piece> order = new ArrayList<>(n);
    int last = -1;
    while (order.size() < n) {
      int next = choose(waiting, done, depth, last);
      if (next < 0) {
        next = leastHarm(done);
      }
      done[next] = true;
      order.add(pieces.get(next));
      before.get(next).keySet().forEach(near -> waiting[near]--);
      last = pieces.get(next).part();
    }
    return order;
  }

  private int choose(int[] waiting, boolean[] done, double[] depth, int lastPart) {
    int best = -1;
    for (int i = 0; i < done.length; i++) {
      if (done[i] || waiting[i] > 0) {
        continue;
      }
      if (pieces.get(i).part() == lastPart) {
        return i;
      }
      if (best < 0 || depth[i] < depth[best]) {
        best = i;
      }
    }
    return best;
  }

  /** When all that are left wait for one another: the one that the fewest pixels want to be later. */
  private int leastHarm(boolean[] done) {
    int[] harm = new int[done.length];
    for (int i = 0; i < done.length; i++) {
      if (!done[i]) {
        before.get(i).forEach((near, pixels) -> harm[near] += pixels);
      }
    }
    int best = -1;
    for (int i = 0; i < done.length; i++) {
      if (!done[i] && (best < 0 || harm[i] < harm[best])) {
        best = i;
      }
    }
    return best;
  }

  private static double depthOf(Piece piece) {
    if (piece.form() instanceof Piece.Round round) {
      return Arrays.stream(round.tube().z, piece.from(), piece.to() + 1).average().orElse(0);
    }
    return ((Piece.Flat) piece.form())
        .facets().faces().stream().mapToDouble(f -> f.corners().get(0).z()).average().orElse(0);
  }
}

package ferrule.drawing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntPredicate;

/**
 * The order in which pieces are painted so that nearer ones cover farther ones.
 *
 * <p>Idea: the painter's algorithm with division of pieces (Newell, Newell and Sancha 1972), with the question "which of
 * these two is in front" answered not by tests on pairs of polygons but by a small A-buffer: at each pixel, whatever
 * lies behind the piece that is seen there must be painted before it. That gives a graph with a few edges for each
 * piece. If the graph has a cycle (a crook that passes before one leg and behind the other), the tubes in it are halved
 * and looked at again; what still turns in a circle after a few rounds (parts that touch or pass through one another)
 * is broken at the edge that fewest pixels ask for. Pieces that are seen nowhere are left out. Among the pieces that
 * may come next, one of the same part as the last is preferred, so that a part stays in few groups; then the farthest.
 *
 * <p>Cost: one step for each pixel that a piece covers, then linear in edges.
 */
final class DepthOrder {

  private static final int ROUNDS = 3;
  private static final int WORTH_DIVIDING = 4;

  private final double factor;
  private final int width;
  private final int height;
  private final IntPredicate glass;
  private List<Piece> pieces;
  private List<Map<Integer, Integer>> before;

  private DepthOrder(List<Piece> pieces, IntPredicate glass, double width, double height, double factor) {
    this.factor = factor;
    this.width = (int) Math.ceil(width * factor) + 1;
    this.height = (int) Math.ceil(height * factor) + 1;
    this.glass = glass;
    this.pieces = pieces;
  }

  /**
   * The pieces that are seen, in painting order, some of them divided.
   *
   * @param glass whether a part, by its number, lets be seen what is behind it
   * @param width the picture's width in px
   * @param height the picture's height in px
   * @param factor pixels of the buffer for each px of the picture, such as 0.5
   */
  static List<Piece> of(List<Piece> pieces, IntPredicate glass, double width, double height, double factor) {
    DepthOrder order = new DepthOrder(List.copyOf(pieces), glass, width, height, factor);
    order.compare();
    for (int round = 0; round < ROUNDS && order.divideCycles(); round++) {
      order.compare();
    }
    return order.sorted();
  }

  /** Leaves out what is seen nowhere and fills {@code before}: for each piece, those that hide a part of it. */
  private void compare() {
    int n = pieces.size();
    boolean[] clear = new boolean[n];
    Raster raster = new Raster(width, height);
    for (int i = 0; i < n; i++) {
      clear[i] = glass.test(pieces.get(i).part());
      Skin.paint(pieces.get(i), i, factor, raster);
    }
    boolean[] covers = new boolean[n];
    boolean[] seen = new boolean[n];
    int[] counts = new int[n * n];
    raster.forEachPixel((pixel, size, numbers, depth) -> {
      int top = size - 1;
      seen[numbers[top]] = true;
      while (top > 0 && clear[numbers[top]]) {
        counts[numbers[top - 1] * n + numbers[top]]++;
        seen[numbers[--top]] = true;
      }
      int solid = numbers[top];
      covers[solid] = true;
      for (int k = 0; k < top; k++) {
        covers[numbers[k]] = true;
        counts[numbers[k] * n + solid]++;
      }
    });
    keep(seen, covers, counts);
  }

  /** Pieces too small to cover the middle of a pixel are kept: nothing is known against them. */
  private void keep(boolean[] seen, boolean[] covers, int[] counts) {
    int n = pieces.size();
    int[] number = new int[n];
    List<Piece> kept = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      number[i] = seen[i] || !covers[i] ? kept.size() : -1;
      if (number[i] >= 0) {
        kept.add(pieces.get(i));
      }
    }
    before = new ArrayList<>();
    for (int far = 0; far < n; far++) {
      if (number[far] < 0) {
        continue;
      }
      Map<Integer, Integer> nearer = new HashMap<>();
      for (int near = 0; near < n; near++) {
        int net = counts[far * n + near] - counts[near * n + far];
        if (number[near] >= 0 && net > 0) {
          nearer.put(number[near], net);
        }
      }
      before.add(nearer);
    }
    pieces = kept;
  }

  /** What a few pixels ask for is often only the roughness of the buffer, and not worth a division. */
  private List<Map<Integer, Integer>> strongEdges() {
    List<Map<Integer, Integer>> strong = new ArrayList<>();
    for (Map<Integer, Integer> nearer : before) {
      Map<Integer, Integer> kept = new HashMap<>();
      nearer.forEach((piece, pixels) -> {
        if (pixels >= WORTH_DIVIDING) {
          kept.put(piece, pixels);
        }
      });
      strong.add(kept);
    }
    return strong;
  }

  private boolean divideCycles() {
    int[] knot = Knots.of(strongEdges());
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

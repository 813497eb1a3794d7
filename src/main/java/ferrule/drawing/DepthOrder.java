package ferrule.drawing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.TreeMap;
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
 * <p>Cost: one step for each pixel that a piece covers, then one for each edge, and n log n in the pieces.
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

  private DepthOrder(List<Piece> pieces, IntPredicate glass, int width, int height, double factor) {
    this.factor = factor;
    this.width = width;
    this.height = height;
    this.glass = glass;
    this.pieces = pieces;
  }

  /**
   * The pieces that are seen, in painting order, some of them divided.
   *
   * @param glass whether a part, by its number, lets be seen what is behind it
   * @param painted a buffer in which each piece was painted as the layer of its place in the list
   * @param factor pixels of the buffer for each px of the picture, such as 0.5
   */
  static List<Piece> of(List<Piece> pieces, IntPredicate glass, Raster painted, double factor) {
    DepthOrder order = new DepthOrder(List.copyOf(pieces), glass, painted.width, painted.height, factor);
    order.compare(painted);
    for (int round = 0; round < ROUNDS && order.divideCycles(); round++) {
      Raster raster = new Raster(order.width, order.height);
      for (int i = 0; i < order.pieces.size(); i++) {
        Skin.paint(order.pieces.get(i), i, factor, raster);
      }
      order.compare(raster);
    }
    return order.sorted();
  }

  /** Leaves out what is seen nowhere and fills {@code before}: for each piece, those that hide a part of it. */
  private void compare(Raster raster) {
    Sightings sightings = new Sightings(pieces.stream().map(p -> glass.test(p.part())).toList());
    raster.forEachPixel(sightings);
    sightings.flush();
    keep(sightings);
  }

  /** What the pixels say: which pieces are seen, and for each two of them how often one lies before the other. */
  private static final class Sightings implements Raster.PixelReader {
    private final boolean[] clear;
    private final boolean[] covers;
    private final boolean[] seen;
    private final List<Map<Integer, int[]>> nearer = new ArrayList<>();
    private int[] lists = {};
    private int last;
    private int size;
    private int repeats;

    Sightings(List<Boolean> clear) {
      int n = clear.size();
      this.clear = new boolean[n];
      covers = new boolean[n];
      seen = new boolean[n];
      for (int i = 0; i < n; i++) {
        this.clear[i] = clear.get(i);
        nearer.add(new HashMap<>());
      }
    }

    /** Neighbouring pixels mostly see the same pieces in the same order; they are counted together. */
    @Override
    public void read(int pixel, int first, int n, int[] numbers) {
      if (n != size || !Arrays.equals(numbers, first, first + n, numbers, last, last + n)) {
        flush();
        lists = numbers;
        last = first;
        size = n;
      }
      repeats++;
    }

    void flush() {
      if (repeats == 0) {
        return;
      }
      int top = last + size - 1;
      seen[lists[top]] = true;
      while (top > last && clear[lists[top]]) {
        count(lists[top - 1], lists[top]);
        seen[lists[--top]] = true;
      }
      int solid = lists[top];
      covers[solid] = true;
      for (int k = last; k < top; k++) {
        covers[lists[k]] = true;
        count(lists[k], solid);
      }
      repeats = 0;
    }

    private void count(int far, int near) {
      nearer.get(far).computeIfAbsent(near, k -> new int[1])[0] += repeats;
    }

    private int times(int far, int near) {
      int[] times = nearer.get(far).get(near);
      return times == null ? 0 : times[0];
    }
  }

  /** Pieces too small to cover the middle of a pixel are kept: nothing is known against them. */
  private void keep(Sightings s) {
    int n = pieces.size();
    int[] number = new int[n];
    List<Piece> kept = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      number[i] = s.seen[i] || !s.covers[i] ? kept.size() : -1;
      if (number[i] >= 0) {
        kept.add(pieces.get(i));
      }
    }
    before = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      if (number[i] >= 0) {
        int far = i;
        Map<Integer, Integer> nearer = new TreeMap<>();
        s.nearer.get(far).forEach((near, times) -> {
          int net = times[0] - s.times(near, far);
          if (number[near] >= 0 && net > 0) {
            nearer.put(number[near], net);
          }
        });
        before.add(nearer);
      }
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
    Ready ready = new Ready(depth);
    for (int i = 0; i < n; i++) {
      if (waiting[i] == 0) {
        ready.add(i);
      }
    }
    List<Piece> order = new ArrayList<>(n);
    int last = -1;
    while (order.size() < n) {
      int next = ready.take(last);
      if (next < 0) {
        next = leastHarm(ready.done);
        ready.done[next] = true;
      }
      order.add(pieces.get(next));
      for (int near : before.get(next).keySet()) {
        if (--waiting[near] == 0) {
          ready.add(near);
        }
      }
      last = pieces.get(next).part();
    }
    return order;
  }

  /** The pieces that wait for no other. */
  private final class Ready {
    private final boolean[] done = new boolean[pieces.size()];
    private final PriorityQueue<Integer> farthest;
    private final Map<Integer, PriorityQueue<Integer>> byPart = new HashMap<>();

    Ready(double[] depth) {
      farthest = new PriorityQueue<>(Comparator.<Integer>comparingDouble(i -> depth[i]).thenComparing(i -> i));
    }

    void add(int piece) {
      farthest.add(piece);
      byPart.computeIfAbsent(pieces.get(piece).part(), p -> new PriorityQueue<>()).add(piece);
    }

    /** One of this part if there is one, else the farthest of all; -1 if none is ready. */
    int take(int part) {
      int next = firstOf(byPart.get(part));
      if (next < 0) {
        next = firstOf(farthest);
      }
      if (next >= 0) {
        done[next] = true;
      }
      return next;
    }

    private int firstOf(PriorityQueue<Integer> queue) {
      while (queue != null && !queue.isEmpty()) {
        int next = queue.poll();
        if (!done[next]) {
          return next;
        }
      }
      return -1;
    }
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

package ferrule.drawing;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntPredicate;

/**
 * How much of each part is seen, from the same buffer in which pieces are compared: which part is nearest at each
 * pixel. The anchor of a part is the pole of inaccessibility of its visible pixels: the one farthest from any pixel
 * that is not, by the two-pass chamfer distance of Borgefors (1986) with weights 3 and 4. It is the middle of a pixel,
 * so it lies on the part whatever the buffer's resolution.
 */
final class VisibilityMap {

  private final double factor;
  private final int width;
  private final int[] nearest;
  private final int[] covered;
  private final int[] seen;
  private final int[] box;

  /**
   * A map of pieces.
   *
   * @param painted a buffer in which each piece was painted as the layer of its place in the list
   * @param glass whether a part, by its number, hides nothing and is seen only where nothing else is
   * @param parts the number of parts
   * @param factor pixels of the buffer for each px of the picture
   */
  VisibilityMap(Raster painted, List<Piece> pieces, IntPredicate glass, int parts, double factor) {
    this.factor = factor;
    width = painted.width;
    nearest = new int[painted.width * painted.height];
    Arrays.fill(nearest, -1);
    covered = new int[parts];
    seen = new int[parts];
    box = new int[4 * parts];
    for (int p = 0; p < parts; p++) {
      box[4 * p] = Integer.MAX_VALUE;
      box[4 * p + 1] = Integer.MAX_VALUE;
    }
    fill(painted, pieces, glass, parts);
    count();
  }

  private void fill(Raster painted, List<Piece> pieces, IntPredicate glass, int parts) {
    int[] partOf = pieces.stream().mapToInt(Piece::part).toArray();
    boolean[] clear = new boolean[parts];
    for (int part = 0; part < parts; part++) {
      clear[part] = glass.test(part);
    }
    Runs runs = new Runs(parts);
    painted.forEachPixel((pixel, first, n, numbers) -> {
      if (!runs.goesOn(first, n, numbers)) {
        runs.begin(first, n, numbers, partOf, clear);
      }
      runs.pixels++;
      nearest[pixel] = runs.open;
    });
    runs.end();
  }

  /** Neighbouring pixels mostly hold the same pieces in the same order; they are counted together. */
  private final class Runs {
    private final int[] lastRun;
    private int number;
    private int at;
    private int size;
    private int[] parts = new int[16];
    private int distinct;
    private int open;
    private int pixels;

    Runs(int parts) {
      lastRun = new int[parts];
    }

    boolean goesOn(int first, int n, int[] numbers) {
      return n == size && Arrays.equals(numbers, first, first + n, numbers, at, at + n);
    }

    void begin(int first, int n, int[] numbers, int[] partOf, boolean[] clear) {
      end();
      number++;
      at = first;
      size = n;
      parts = n > parts.length ? new int[2 * n] : parts;
      open = -1;
      for (int k = first; k < first + n; k++) {
        int part = partOf[numbers[k]];
        if (lastRun[part] != number) {
          lastRun[part] = number;
          parts[distinct++] = part;
        }
        if (open < 0 || clear[open] || !clear[part]) {
          open = part;
        }
      }
    }

    void end() {
      for (int i = 0; i < distinct; i++) {
        covered[parts[i]] += pixels;
      }
      distinct = 0;
      pixels = 0;
    }
  }

  private void count() {
    for (int pixel = 0; pixel < nearest.length; pixel++) {
      if (nearest[pixel] >= 0) {
        seen[nearest[pixel]]++;
        widen(nearest[pixel], pixel % width, pixel / width);
      }
    }
  }

  private void widen(int part, int x, int y) {
    int b = 4 * part;
    box[b] = Math.min(box[b], x);
    box[b + 1] = Math.min(box[b + 1], y);
    box[b + 2] = Math.max(box[b + 2], x);
    box[b + 3] = Math.max(box[b + 3], y);
  }

  /** How much of these parts together is seen; a fraction and an area of 0 if nothing. */
  Visible of(List<Integer> parts) {
    int all = 0;
    int open = 0;
    for (int part : parts) {
      all += covered[part];
      open += seen[part];
    }
    if (open == 0) {
      return new Visible(0, 0, new Visible.Point(0, 0));
    }
    return new Visible((double) open / all, open / (factor * factor), anchor(parts));
  }

  private Visible.Point anchor(List<Integer> parts) {
    int x0 = Integer.MAX_VALUE;
    int y0 = Integer.MAX_VALUE;
    int w = 0;
    int h = 0;
    boolean[] own = new boolean[seen.length];
    for (int part : parts) {
      own[part] = true;
      x0 = Math.min(x0, box[4 * part] - 1);
      y0 = Math.min(y0, box[4 * part + 1] - 1);
    }
    for (int part : parts) {
      w = Math.max(w, box[4 * part + 2] - x0 + 2);
      h = Math.max(h, box[4 * part + 3] - y0 + 2);
    }
    int[] far = new int[w * h];
    for (int y = 1; y < h - 1; y++) {
      for (int x = 1; x < w - 1; x++) {
        int i = y * w + x;
        int here = nearest[(y0 + y) * width + x0 + x];
        if (here >= 0 && own[here]) {
          far[i] = Math.min(
              Math.min(far[i - 1] + 3, far[i - w] + 3), Math.min(far[i - w - 1] + 4, far[i - w + 1] + 4));
        }
      }
    }
    int best = -1;
    for (int y = h - 2; y > 0; y--) {
      for (int x = w - 2; x > 0; x--) {
        int i = y * w + x;
        far[i] = Math.min(far[i], Math.min(
            Math.min(far[i + 1] + 3, far[i + w] + 3), Math.min(far[i + w + 1] + 4, far[i + w - 1] + 4)));
        if (best < 0 || far[i] > far[best]) {
          best = i;
        }
      }
    }
    return new Visible.Point((x0 + best % w + 0.5) / factor, (y0 + best / w + 0.5) / factor);
  }
}

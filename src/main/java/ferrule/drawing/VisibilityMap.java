package ferrule.drawing;

import java.util.List;

/**
 * How much of each part is seen, from a z-buffer of one pixel for each px of the picture: which part is nearest at each
 * pixel. The anchor of a part is the pole of inaccessibility of its visible pixels: the one farthest from any pixel
 * that is not, by the two-pass chamfer distance of Borgefors (1986) with weights 3 and 4.
 */
final class VisibilityMap {

  private final int width;
  private final int height;
  private final int[] nearest;
  private final int[] covered;
  private final int[] seen;
  private final int[] box;

  /**
   * A map of pieces.
   *
   * @param glass pieces that hide nothing, and are seen only where nothing else is
   * @param parts the number of parts
   */
  VisibilityMap(List<Piece> solid, List<Piece> glass, int parts, double width, double height) {
    this.width = (int) Math.ceil(width);
    this.height = (int) Math.ceil(height);
    nearest = new int[this.width * this.height];
    java.util.Arrays.fill(nearest, -1);
    covered = new int[parts];
    seen = new int[parts];
    box = new int[4 * parts];
    for (int p = 0; p < parts; p++) {
      box[4 * p] = Integer.MAX_VALUE;
      box[4 * p + 1] = Integer.MAX_VALUE;
    }
    fill(glass, parts);
    fill(solid, parts);
    count();
  }

  private void fill(List<Piece> pieces, int parts) {
    Raster raster = new Raster(width, height);
    for (Piece piece : pieces) {
      Skin.paint(piece, piece.part(), 1, raster);
    }
    int[] lastPixel = new int[parts];
    java.util.Arrays.fill(lastPixel, -1);
    raster.forEachPixel((pixel, n, numbers, depth) -> {
      for (int k = 0; k < n; k++) {
        if (lastPixel[numbers[k]] != pixel) {
          lastPixel[numbers[k]] = pixel;
          covered[numbers[k]]++;
        }
      }
      nearest[pixel] = numbers[n - 1];
    });
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
    return new Visible((double) open / all, open, anchor(parts));
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
    return new Visible.Point(x0 + best % w + 0.5, y0 + best / w + 0.5);
  }
}

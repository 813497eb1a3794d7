package ferrule.drawing;

import java.util.Arrays;

/**
 * A grid of pixels in which each pixel holds a list of what lies behind it: the number of a layer and the depth of its
 * nearest surface (an A-buffer, Carpenter 1984, without its coverage masks). Each layer stands at most once in a
 * pixel's list.
 *
 * <p>A layer is painted with {@link #begin}, any number of triangles, and {@link #end}. Cost: one step for each pixel
 * that a triangle covers.
 */
final class Raster {

  final int width;
  final int height;
  private final float[] scratch;
  private int minX;
  private int maxX;
  private int minY;
  private int maxY;
  private int layer;

  private int count;
  private int[] pixel = new int[1 << 16];
  private int[] layers = new int[1 << 16];
  private float[] depths = new float[1 << 16];

  Raster(int width, int height) {
    this.width = width;
    this.height = height;
    scratch = new float[width * height];
    Arrays.fill(scratch, Float.NEGATIVE_INFINITY);
  }

  /** Starts a layer. */
  void begin(int number) {
    layer = number;
    minX = width;
    maxX = -1;
    minY = height;
    maxY = -1;
  }

  /** Paints a triangle: pixels whose middle lies in it. */
  void triangle(
      double ax, double ay, double az, double bx, double by, double bz, double cx, double cy, double cz) {
    double area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    if (Math.abs(area) < 1e-9) {
      return;
    }
    int x0 = Math.max(0, (int) Math.ceil(Math.min(ax, Math.min(bx, cx)) - 0.5));
    int x1 = Math.min(width - 1, (int) Math.floor(Math.max(ax, Math.max(bx, cx)) - 0.5));
    int y0 = Math.max(0, (int) Math.ceil(Math.min(ay, Math.min(by, cy)) - 0.5));
    int y1 = Math.min(height - 1, (int) Math.floor(Math.max(ay, Math.max(by, cy)) - 0.5));
    if (x0 > x1 || y0 > y1) {
      return;
    }
    minX = Math.min(minX, x0);
    maxX = Math.max(maxX, x1);
    minY = Math.min(minY, y0);
    maxY = Math.max(maxY, y1);
    double u0 = (cy - ay) / area;
    double u1 = -(cx - ax) / area;
    double v0 = -(by - ay) / area;
    double v1 = (bx - ax) / area;
    double zu = bz - az;
    double zv = cz - az;
    for (int py = y0; py <= y1; py++) {
      double dy = py + 0.5 - ay;
      double dx = x0 + 0.5 - ax;
      double u = u0 * dx + u1 * dy;
      double v = v0 * dx + v1 * dy;
      int row = py * width;
      for (int px = x0; px <= x1; px++, u += u0, v += v0) {
        if (u >= -1e-9 && v >= -1e-9 && u + v <= 1 + 1e-9) {
          float z = (float) (az + u * zu + v * zv);
          if (z > scratch[row + px]) {
            scratch[row + px] = z;
          }
        }
      }
    }
  }

  /** Files the layer's pixels and clears the scratch for the next. */
  void end() {
    for (int py = minY; py <= maxY; py++) {
      for (int i = py * width + minX, last = py * width + maxX; i <= last; i++) {
        if (scratch[i] != Float.NEGATIVE_INFINITY) {
          add(i, scratch[i]);
          scratch[i] = Float.NEGATIVE_INFINITY;
        }
      }
    }
  }

  private void add(int where, float depth) {
    if (count == pixel.length) {
      pixel = Arrays.copyOf(pixel, 2 * count);
      layers = Arrays.copyOf(layers, 2 * count);
      depths = Arrays.copyOf(depths, 2 * count);
    }
    pixel[count] = where;
    layers[count] = layer;
    depths[count++] = depth;
  }

  /** Receives the list of one pixel. */
  @FunctionalInterface
  interface PixelReader {
    /**
     * The layers at a pixel, the farthest first.
     *
     * @param numbers the layers' numbers; only the first {@code n} count, and only during the call
     */
    void read(int pixel, int n, int[] numbers, float[] depth);
  }

  /** Goes through every pixel that holds anything. */
  void forEachPixel(PixelReader reader) {
    int[] start = new int[width * height + 1];
    for (int i = 0; i < count; i++) {
      start[pixel[i] + 1]++;
    }
    for (int i = 0; i < width * height; i++) {
      start[i + 1] += start[i];
    }
    int[] next = Arrays.copyOf(start, start.length);
    int[] order = new int[count];
    for (int i = 0; i < count; i++) {
      order[next[pixel[i]]++] = i;
    }
    int[] numbers = new int[64];
    float[] depth = new float[64];
    for (int p = 0; p < width * height; p++) {
      int n = start[p + 1] - start[p];
      if (n > 0) {
        if (n > numbers.length) {
          numbers = new int[2 * n];
          depth = new float[2 * n];
        }
        sortInto(order, start[p], n, numbers, depth);
        reader.read(p, n, numbers, depth);
      }
    }
  }

  private void sortInto(int[] order, int first, int n, int[] numbers, float[] depth) {
    for (int i = 0; i < n; i++) {
      int f = order[first + i];
      float z = depths[f];
      int k = i;
      while (k > 0 && depth[k - 1] > z) {
        depth[k] = depth[k - 1];
        numbers[k] = numbers[k - 1];
        k--;
      }
      depth[k] = z;
      numbers[k] = layers[f];
    }
  }
}

package ferrule.drawing;

import java.util.Arrays;

/**
 * A grid of pixels in which each pixel holds a list of what lies behind it: the number of a layer and the depth of its
 * nearest surface (an A-buffer, Carpenter 1984, without its coverage masks). Each layer stands at most once in a
 * pixel's list.
 *
 * <p>A layer is painted with {@link #begin}, any number of triangles, and {@link #end}. Cost: one step for each row of
 * a triangle and for each pixel that it covers.
 */
final class Raster {

  /** By how much a pixel's middle may lie off a triangle, as a share of its size, and still count as in it. */
  private static final double EDGE = 1e-9;

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
  /** Where each pixel's list begins, once they are sorted. */
  private int[] start;

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
      int from = Math.max(first(u, u0), Math.max(first(v, v0), first(1 - u - v, -u0 - v0)));
      int to = Math.min(x1 - x0, Math.min(last(u, u0), Math.min(last(v, v0), last(1 - u - v, -u0 - v0))));
      double z = az + (u + from * u0) * zu + (v + from * v0) * zv;
      double dz = u0 * zu + v0 * zv;
      for (int i = py * width + x0 + from, end = py * width + x0 + to; i <= end; i++, z += dz) {
        if (z > scratch[i]) {
          scratch[i] = (float) z;
        }
      }
    }
  }

  /** The first step from 0 on at which a value that grows by {@code by} a step is not negative. */
  private static int first(double value, double by) {
    if (value >= -EDGE) {
      return 0;
    }
    return by <= 0 ? Integer.MAX_VALUE / 2 : (int) Math.min(Integer.MAX_VALUE / 2, Math.ceil((-EDGE - value) / by));
  }

  /** The last step at which a value that grows by {@code by} a step is not negative. */
  private static int last(double value, double by) {
    if (by >= 0) {
      return Integer.MAX_VALUE / 2;
    }
    return value < -EDGE ? -1 : (int) Math.min(Integer.MAX_VALUE / 2, Math.floor((value + EDGE) / -by));
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
     * The layers at a pixel, the farthest first: {@code n} of these numbers from {@code first} on.
     *
     * @param numbers the layers' numbers; not to be changed
     */
    void read(int pixel, int first, int n, int[] numbers);
  }

  /** Goes through every pixel that holds anything. No more can be painted then. */
  void forEachPixel(PixelReader reader) {
    if (start == null) {
      sort();
    }
    for (int p = 0; p < width * height; p++) {
      int n = start[p + 1] - start[p];
      if (n > 0) {
        reader.read(p, start[p], n, layers);
      }
    }
  }

  /** Puts all lists one after another, each with the farthest first: a counting sort, then insertion by depth. */
  private void sort() {
    start = new int[width * height + 1];
    for (int i = 0; i < count; i++) {
      start[pixel[i] + 1]++;
    }
    for (int i = 0; i < width * height; i++) {
      start[i + 1] += start[i];
    }
    int[] size = new int[width * height];
    int[] numbers = new int[count];
    float[] sorted = new float[count];
    for (int i = 0; i < count; i++) {
      int first = start[pixel[i]];
      int k = first + size[pixel[i]]++;
      float z = depths[i];
      while (k > first && sorted[k - 1] > z) {
        sorted[k] = sorted[k - 1];
        numbers[k] = numbers[k - 1];
        k--;
      }
      sorted[k] = z;
      numbers[k] = layers[i];
    }
    layers = numbers;
    depths = sorted;
  }
}

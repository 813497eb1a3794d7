package ferrule.drawing;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * How the time of a picture grows with what it shows: 1/8, 1/4, 1/2 of a trumpet's solids, one trumpet, and two, four
 * and eight side by side. Prints for each the solids, the median time of the processor from the model to the SVG, and
 * what each solid more costs; then the line through the points by least squares and how much of the spread it
 * explains, and the exponent of a power law through them.
 */
public final class PictureGrowth {

  private static final int REPEATS = 41;
  private static final double APART_MM = 180;

  private PictureGrowth() {}

  /** Prints the table and the fit. */
  public static void main(String[] args) {
    Problems problems = new Problems();
    Glossary glossary = GlossaryReader.read(Curriculum.bundled(), "trumpet", problems).orElseThrow();
    Instrument trumpet = InstrumentReader.read(Curriculum.bundled(), "trumpet", glossary, problems).orElseThrow();
    Map<Integer, Double> times = new TreeMap<>();
    for (int round = 0; round < 2; round++) {
      for (double trumpets : new double[] {0.125, 0.25, 0.5, 1, 2, 4, 8}) {
        Instrument many = times(trumpet, trumpets);
        times.put(many.shapes().size(), median(many, glossary));
      }
    }
    System.out.println("solids\tms\tms for each further solid");
    double[] last = {0, 0};
    times.forEach((solids, ms) -> {
      System.out.printf("%d\t%.2f\t%.4f%n", solids, ms, (ms - last[1]) / (solids - last[0]));
      last[0] = solids;
      last[1] = ms;
    });
    double[] line = fit(times, false);
    double[] power = fit(times, true);
    System.out.printf("ms = %.2f + %.4f x solids, R2 = %.4f; exponent of a power law %.2f%n",
        line[0], line[1], line[2], power[1]);
  }

  /** So many trumpets one above another; of less than one, every so-manieth solid. */
  private static Instrument times(Instrument one, double trumpets) {
    List<Shape> shapes = new ArrayList<>();
    for (int copy = 0; copy < Math.max(1, trumpets); copy++) {
      Vec by = new Vec(0, copy * APART_MM, 0);
      for (int i = 0; i < one.shapes().size(); i += (int) Math.max(1, 1 / trumpets)) {
        shapes.add(one.shapes().get(i).moved(by));
      }
    }
    return new Instrument(
        one.id(), one.dimensions(), shapes, one.airway(), one.joints(), one.slides(), one.contacts(), one.views());
  }

  private static double median(Instrument instrument, Glossary glossary) {
    ThreadMXBean clock = ManagementFactory.getThreadMXBean();
    long[] times = new long[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
      long start = clock.getCurrentThreadCpuTime();
      Studio.of(instrument, glossary).picture(PictureRequest.of("players-left"));
      times[i] = clock.getCurrentThreadCpuTime() - start;
    }
    Arrays.sort(times);
    return times[REPEATS / 2] / 1e6;
  }

  /** Intercept, slope and share of the spread explained; of logarithms if asked for. */
  private static double[] fit(Map<Integer, Double> points, boolean logarithms) {
    double n = points.size();
    double sx = 0;
    double sy = 0;
    double sxx = 0;
    double sxy = 0;
    double syy = 0;
    for (Map.Entry<Integer, Double> point : points.entrySet()) {
      double x = logarithms ? Math.log(point.getKey()) : point.getKey();
      double y = logarithms ? Math.log(point.getValue()) : point.getValue();
      sx += x;
      sy += y;
      sxx += x * x;
      sxy += x * y;
      syy += y * y;
    }
    double slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
    double r2 = Math.pow(n * sxy - sx * sy, 2) / ((n * sxx - sx * sx) * (n * syy - sy * sy));
    return new double[] {(sy - slope * sx) / n, slope, r2};
  }
}

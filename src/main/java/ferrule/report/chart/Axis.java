package ferrule.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleFunction;

/**
 * An axis of a chart.
 *
 * @param title what it measures, with the unit
 * @param from its lowest value
 * @param to its highest value, above the lowest
 * @param steps between ticks, ascending: the smallest that leaves room is taken
 * @param marks where ticks stand instead, for an axis that is not even; mostly empty
 * @param words how a value is written at a tick
 */
public record Axis(
    String title, double from, double to, List<Double> steps, List<Double> marks, DoubleFunction<String> words) {

  private static final double ROUNDING = 1e-9;

  /** Copies the steps and checks the range. */
  public Axis {
    steps = List.copyOf(steps);
    marks = List.copyOf(marks);
    if (!(to > from) || steps.isEmpty() == marks.isEmpty()) {
      throw new IllegalArgumentException("an axis has a range, and steps or marks; given: " + from + " to " + to);
    }
  }

  /** An even axis. */
  public Axis(String title, double from, double to, List<Double> steps, DoubleFunction<String> words) {
    this(title, from, to, steps, List.of(), words);
  }

  /** An axis with ticks at these values, those of them that are in the range. */
  public static Axis marked(String title, double from, double to, List<Double> marks, DoubleFunction<String> words) {
    return new Axis(title, from, to, List.of(), marks.stream().filter(m -> m >= from && m <= to).toList(), words);
  }

  /** Shares, from 0 to 100 %; the values are from 0 to 1. */
  public static Axis shares(String title) {
    return new Axis(title, 0, 1, List.of(0.25, 0.5), v -> Math.round(100 * v) + " %");
  }

  /** Whole numbers from 0 to the next nice number from this one on. */
  public static Axis counts(String title, double most) {
    double step = Math.max(1, nice(most / 4));
    return new Axis(title, 0, Math.max(step, step * Math.ceil(most / step - ROUNDING)), List.of(step, 2 * step),
        v -> String.format(Locale.ENGLISH, "%,d", Math.round(v)));
  }

  /** The smallest of 1, 2 and 5 times a power of ten that is no smaller (P. S. Heckbert, Graphics Gems, 1990). */
  public static double nice(double value) {
    double power = Math.pow(10, Math.floor(Math.log10(Math.max(value, 1e-12)) + ROUNDING));
    for (double factor : new double[] {1, 2, 5}) {
      if (factor * power >= value * (1 - ROUNDING)) {
        return factor * power;
      }
    }
    return 10 * power;
  }

  /** The values at which ticks stand, at most so many unless even the widest step makes more. */
  List<Double> ticks(int most) {
    if (!marks.isEmpty()) {
      return marks;
    }
    double step = steps.stream().filter(s -> (to - from) / s + 1 <= most + ROUNDING).findFirst()
        .orElse(steps.get(steps.size() - 1));
    List<Double> ticks = new ArrayList<>();
    for (double k = Math.ceil(from / step - ROUNDING); k * step <= to + ROUNDING * (to - from); k++) {
      ticks.add(k * step + 0.0);
    }
    return ticks;
  }

  /** Where a value lies between two ends; what is outside the range lies at its end. */
  double place(double value, double start, double end) {
    double share = (Math.min(to, Math.max(from, value)) - from) / (to - from);
    return start + share * (end - start);
  }
}

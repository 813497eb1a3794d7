package ferrule.drill.known;

import java.util.Locale;

/** How well forecasts hold: the Brier score, and what came true of forecasts by tenths. */
final class Calibration {

  private static final int BINS = 10;

  private final int[] count = new int[BINS];
  private final double[] forecast = new double[BINS];
  private final double[] happened = new double[BINS];
  private double squares;
  private int within;

  /** Takes in a forecast and what came of it. */
  void add(double chance, double came) {
    int bin = Math.min(BINS - 1, (int) (chance * BINS));
    count[bin]++;
    forecast[bin] += chance;
    happened[bin] += came;
    squares += (chance - came) * (chance - came);
  }

  int total() {
    int total = 0;
    for (int c : count) {
      total += c;
    }
    return total;
  }

  /** The mean squared difference of forecast and outcome (G. W. Brier, Monthly Weather Review 78, 1950, 1-3). */
  double brier() {
    return squares / total();
  }

  /** What the score would be if the share of right answers were forecast for every answer. */
  double brierOfMean() {
    double mean = 0;
    for (double h : happened) {
      mean += h / total();
    }
    return mean * (1 - mean);
  }

  /** The mean distance of forecast and outcome over the tenths, weighted by how many forecasts each holds. */
  double error() {
    double sum = 0;
    for (int i = 0; i < BINS; i++) {
      sum += Math.abs(forecast[i] - happened[i]);
    }
    return sum / total();
  }

  /** The share of answers before which the bounds of the chance held the true chance; eight of ten are promised. */
  double held() {
    return (double) within / total();
  }

  /** One line for each tenth. */
  String curve() {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < BINS; i++) {
      if (count[i] > 0) {
        lines.append(
            String.format(
                Locale.ROOT,
                "%6d forecasts of %.3f: %.3f%n",
                count[i],
                forecast[i] / count[i],
                happened[i] / count[i]));
      }
    }
    return lines.toString();
  }

  /** Forecasts each answer of a class from those before it, which it takes in. */
  SimulatedClass.Watcher watching(SimulatedClass of, Knowledge knowledge) {
    return (a, p, asking, right, day) -> {
      var person = of.people.get(a);
      var part = of.parts.get(p);
      var at = SimulatedClass.instant(day);
      add(knowledge.right(person, part, asking, at), right ? 1 : 0);
      Chance chance = knowledge.chance(person, part, at);
      double truth = of.truth(a, p, day);
      within += chance.low() <= truth && truth <= chance.high() ? 1 : 0;
      knowledge.learn(new Answered(person, part, asking, right ? 1 : 0, at));
    };
  }
}

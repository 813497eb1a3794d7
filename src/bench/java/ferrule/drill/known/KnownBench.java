package ferrule.drill.known;

import ferrule.drill.known.SimulatedClass.Outcome;
import ferrule.drill.known.SimulatedClass.World;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * How many items simulated apprentices need until nine of ten parts would be named a week later: what the model chooses
 * against random order, against a fixed expanding schedule, and against one that starts a part again after a miss; and
 * how well the model's forecasts hold. A schedule that sees the true chances tells how far choosing can go at all. The
 * memories are simulated by three models, none of them the one that is fitted. The seeds are not those on which the
 * constants were settled.
 *
 * <p>Run: {@code mvn -q -Pbench -DskipTests test-compile exec:java -Dexec.mainClass=ferrule.drill.known.KnownBench
 * -Dexec.classpathScope=test}; about a minute.
 */
public final class KnownBench {

  private static final int APPRENTICES = 14;
  private static final int PARTS = 120;

  private KnownBench() {}

  /** Prints the comparison; the argument is the number of classes, 5 if there is none. */
  public static void main(String[] args) {
    int classes = args.length > 0 ? Integer.parseInt(args[0]) : 5;
    for (World world : World.values()) {
      compare(world, classes);
    }
  }

  private static void compare(World world, int classes) {
    System.out.printf(Locale.ROOT, "%nWorld %s: %d classes of %d, %d parts%n", world, classes, APPRENTICES, PARTS);
    run(world, classes, "random order", (c, k, s) -> Schedules.randomOrder(c, s), 1);
    run(world, classes, "expanding", (c, k, s) -> Schedules.expanding(c, s), 1);
    run(world, classes, "expanding, back on wrong", (c, k, s) -> Schedules.expandingWithReturn(c, s), 1);
    run(world, classes, "seeing the true chances", (c, k, s) -> Schedules.seeing(c), 1);
    for (double gains : new double[] {1, 0.5, 2}) {
      run(world, classes, "chosen, gains x " + gains, Schedules::chosen, gains);
    }
  }

  private interface Maker {
    SimulatedClass.Schedule make(SimulatedClass of, Knowledge knowledge, long seed);
  }

  private static void run(World world, int classes, String name, Maker maker, double gains) {
    List<Integer> items = new ArrayList<>();
    List<Integer> days = new ArrayList<>();
    int unfinished = 0;
    Calibration calibration = new Calibration();
    for (int i = 0; i < classes; i++) {
      SimulatedClass of = new SimulatedClass(world, APPRENTICES, PARTS, 2000 + i);
      Knowledge knowledge = new Knowledge(new KnownModel(KnownModel.standard().constants().withGains(gains)));
      Outcome o = of.practise(maker.make(of, knowledge, i), calibration.watching(of, knowledge));
      items.addAll(o.items());
      days.addAll(o.days());
      unfinished += o.unfinished();
    }
    System.out.printf(
        Locale.ROOT,
        "  %-26s %7.0f items %6.0f days, not there in a year: %d   Brier %.4f (always the mean: %.4f), "
            + "true chance within the bounds: %.0f %%%n",
        name,
        items.stream().mapToInt(x -> x).average().orElseThrow(),
        days.stream().mapToInt(x -> x).average().orElseThrow(),
        unfinished,
        calibration.brier(),
        calibration.brierOfMean(),
        100 * calibration.held());
    System.out.println(calibration.curve().indent(6));
  }
}

package ferrule.drill.known;

import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.stream.IntStream;

/**
 * A class that practises in the evening of each working day until a share of the parts would be named a week later, by
 * the true chances of the simulation, or until a year has passed.
 *
 * <p>Memories, answers and guesses are drawn from generators of their own for each apprentice and part, so that the
 * same seed gives the same class whatever the schedule.
 */
final class SimulatedClass {

  static final double WANTED = 0.9;
  static final int SESSION = 20;

  private static final Instant START = Instant.parse("2026-09-07T18:00:00Z");
  private static final double SECONDS_PER_ITEM = 30;
  private static final double DAY_SECONDS = 86400;
  private static final int LAST_DAY = 365;
  private static final int SHAPES_TO_CHOOSE_FROM = 4;

  /** A sort of memory to simulate. */
  enum World {
    /** Power-law forgetting of many traces. */
    TRACES((level, random) -> new PowerTraces(1 + 0.35 * level, random)),
    /** Pools that leak at many rates. */
    POOLS((level, random) -> new LeakyPools(Math.exp(0.35 * level), random)),
    /** Exponential forgetting. */
    HALVING((level, random) -> new Halving(0.6 * level, random));

    private final BiFunction<Double, Random, SimulatedMemory> memories;

    World(BiFunction<Double, Random, SimulatedMemory> memories) {
      this.memories = memories;
    }
  }

  /** How the items of a session are chosen. */
  interface Schedule {

    /** The parts for one apprentice's session, at most {@link #SESSION}, each once. */
    List<Integer> session(int apprentice, double day);

    /** An answer was given. */
    default void answered(int apprentice, int part, boolean right, double day) {}
  }

  /**
   * What came of it.
   *
   * @param items the items that each apprentice needed
   * @param days the days that each apprentice needed
   * @param unfinished how many did not get there in a year
   */
  record Outcome(List<Integer> items, List<Integer> days, int unfinished) {

    double meanItems() {
      return items.stream().mapToInt(i -> i).average().orElseThrow();
    }

    double meanDays() {
      return days.stream().mapToInt(i -> i).average().orElseThrow();
    }
  }

  final List<UUID> people;
  final List<ConceptId> parts;
  private final SimulatedMemory[][] memories;
  private final Random[][] luck;

  SimulatedClass(World world, int apprentices, int partCount, long seed) {
    people = IntStream.range(0, apprentices).mapToObj(i -> new UUID(seed, i)).toList();
    parts = IntStream.range(0, partCount).mapToObj(i -> ConceptId.of("part-" + i)).toList();
    Random random = new Random(seed);
    double[] hardness = IntStream.range(0, partCount).mapToDouble(i -> random.nextGaussian()).toArray();
    memories = new SimulatedMemory[apprentices][partCount];
    luck = new Random[apprentices][partCount];
    for (int a = 0; a < apprentices; a++) {
      double aptitude = 0.7 * random.nextGaussian();
      for (int p = 0; p < partCount; p++) {
        double level = aptitude - hardness[p] + 0.5 * random.nextGaussian();
        memories[a][p] = world.memories.apply(level, new Random(random.nextLong()));
        luck[a][p] = new Random(random.nextLong());
        metBefore(memories[a][p], level, random);
      }
    }
  }

  /** The easier a part, the more often it was met in the months before: some every fortnight, half of them never. */
  private static void metBefore(SimulatedMemory memory, double level, Random random) {
    int times = (int) Math.floor(Math.max(0, 4 * (level + 0.5 * random.nextGaussian())));
    for (int i = times; i > 0; i--) {
      memory.practise(-14.0 * i, random.nextDouble() < memory.recall(-14.0 * i));
    }
  }

  /** The true chance that an apprentice would name a part at a time. */
  double truth(int apprentice, int part, double day) {
    return memories[apprentice][part].recall(day);
  }

  /** The moment of a time in days. */
  static Instant instant(double day) {
    return START.plus(Duration.ofMillis(Math.round(day * DAY_SECONDS * 1000)));
  }

  /** What watches the answers, such as a model whose forecasts are to be checked. */
  interface Watcher {

    /** An answer was given. */
    void saw(int apprentice, int part, Asking asking, boolean right, double day);
  }

  /** Practises by a schedule until everyone has reached the share that is wanted. */
  Outcome practise(Schedule schedule, Watcher watcher) {
    Map<Integer, Integer> items = new HashMap<>();
    Map<Integer, Integer> days = new HashMap<>();
    int[] count = new int[people.size()];
    for (int day = 0; day < LAST_DAY && items.size() < people.size(); day++) {
      if (day % 7 >= 5) {
        continue;
      }
      for (int a = 0; a < people.size(); a++) {
        if (items.containsKey(a)) {
          continue;
        }
        List<Integer> session = schedule.session(a, day);
        for (int i = 0; i < session.size(); i++) {
          ask(a, session.get(i), day + i * SECONDS_PER_ITEM / DAY_SECONDS, schedule, watcher);
        }
        count[a] += session.size();
        if (named(a, day + 7) >= WANTED) {
          items.put(a, count[a]);
          days.put(a, day + 1);
        }
      }
    }
    int unfinished = people.size() - items.size();
    for (int a = 0; a < people.size(); a++) {
      items.putIfAbsent(a, count[a]);
      days.putIfAbsent(a, LAST_DAY);
    }
    return new Outcome(new ArrayList<>(items.values()), new ArrayList<>(days.values()), unfinished);
  }

  private double named(int apprentice, double day) {
    return IntStream.range(0, parts.size()).mapToDouble(p -> truth(apprentice, p, day)).average().orElseThrow();
  }

  private void ask(int a, int part, double day, Schedule schedule, Watcher watcher) {
    Random random = luck[a][part];
    boolean choice = random.nextInt(3) == 0;
    Asking asking = choice ? Asking.chosenAmong(SHAPES_TO_CHOOSE_FROM) : Asking.named();
    boolean recalled = random.nextDouble() < truth(a, part, day);
    boolean guessed = choice && random.nextInt(SHAPES_TO_CHOOSE_FROM) == 0;
    boolean right = recalled || guessed;
    watcher.saw(a, part, asking, right, day);
    memories[a][part].practise(day, recalled);
    schedule.answered(a, part, right, day);
  }
}

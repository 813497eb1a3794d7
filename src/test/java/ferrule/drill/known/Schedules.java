package ferrule.drill.known;

import static ferrule.drill.known.SimulatedClass.SESSION;

import ferrule.drill.known.SimulatedClass.Schedule;
import ferrule.glossary.ConceptId;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.IntStream;

/** The schedules that are compared. */
final class Schedules {

  private Schedules() {}

  /** Every part once in an order drawn by lot, then every part once in another such order, and so on. */
  static Schedule randomOrder(SimulatedClass of, long seed) {
    Random random = new Random(seed);
    Map<Integer, ArrayDeque<Integer>> decks = new HashMap<>();
    return (apprentice, day) -> {
      ArrayDeque<Integer> deck = decks.computeIfAbsent(apprentice, a -> new ArrayDeque<>());
      List<Integer> session = new ArrayList<>();
      while (session.size() < Math.min(SESSION, of.parts.size())) {
        if (deck.isEmpty()) {
          List<Integer> all = new ArrayList<>(IntStream.range(0, of.parts.size()).boxed().toList());
          Collections.shuffle(all, random);
          all.removeAll(session);
          deck.addAll(all);
        }
        session.add(deck.poll());
      }
      return session;
    };
  }

  /**
   * Each part again after 1, 2, 4, 8 and then every 16 days whatever was answered; what is overdue longest comes first,
   * and new parts come in when nothing is due.
   */
  static Schedule expanding(SimulatedClass of, long seed) {
    return new Boxes(of, seed, false);
  }

  /** The same, but a part that was answered wrongly starts again at one day. */
  static Schedule expandingWithReturn(SimulatedClass of, long seed) {
    return new Boxes(of, seed, true);
  }

  private static final class Boxes implements Schedule {
    private static final int LAST_STEP = 4;
    private final boolean back;
    private final List<Integer> order;
    private final Map<Integer, Map<Integer, Integer>> step = new HashMap<>();
    private final Map<Integer, Map<Integer, Double>> due = new HashMap<>();

    Boxes(SimulatedClass of, long seed, boolean back) {
      this.back = back;
      order = new ArrayList<>(IntStream.range(0, of.parts.size()).boxed().toList());
      Collections.shuffle(order, new Random(seed));
    }

    @Override
    public List<Integer> session(int apprentice, double day) {
      Map<Integer, Double> own = due.computeIfAbsent(apprentice, a -> new HashMap<>());
      List<Integer> session =
          new ArrayList<>(
              own.entrySet().stream()
                  .filter(e -> e.getValue() <= day)
                  .sorted(Comparator.<Map.Entry<Integer, Double>>comparingDouble(Map.Entry::getValue)
                      .thenComparing(Map.Entry::getKey))
                  .limit(SESSION)
                  .map(Map.Entry::getKey)
                  .toList());
      order.stream().filter(p -> !own.containsKey(p)).limit(SESSION - session.size()).forEach(session::add);
      return session;
    }

    @Override
    public void answered(int apprentice, int part, boolean right, double day) {
      Map<Integer, Integer> steps = step.computeIfAbsent(apprentice, a -> new HashMap<>());
      int next = right || !back ? steps.getOrDefault(part, 0) : 0;
      steps.put(part, next + 1);
      due.get(apprentice).put(part, Math.floor(day) + Math.pow(2, Math.min(next, LAST_STEP)));
    }
  }

  /**
   * What somebody would choose who sees the true chances: how much is missing next week, times how much is lost by now,
   * more where the name still has a chance to be recalled. Nobody can do this; it tells how far choosing can go.
   */
  static Schedule seeing(SimulatedClass of) {
    return (apprentice, day) -> {
      Map<Integer, Double> worth = new HashMap<>();
      for (int part = 0; part < of.parts.size(); part++) {
        double now = of.truth(apprentice, part, day);
        worth.put(part, (1 - of.truth(apprentice, part, day + 7)) * (1 - now) * (0.3 + now));
      }
      return worth.entrySet().stream()
          .sorted(Map.Entry.<Integer, Double>comparingByValue().reversed().thenComparing(Map.Entry.comparingByKey()))
          .limit(SESSION)
          .map(Map.Entry::getKey)
          .toList();
    };
  }

  /** What {@link Chooser} finds most worth a question; the knowledge must be told of the answers. */
  static Schedule chosen(SimulatedClass of, Knowledge knowledge, long seed) {
    Chooser chooser = new Chooser(knowledge);
    Map<ConceptId, Integer> index = new HashMap<>();
    of.parts.forEach(p -> index.put(p, index.size()));
    return (apprentice, day) ->
        chooser
            .next(of.people.get(apprentice), of.parts, Asking.named(), SimulatedClass.instant(day), SESSION, seed)
            .stream()
            .map(w -> index.get(w.part()))
            .toList();
  }
}

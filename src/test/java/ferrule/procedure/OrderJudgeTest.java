package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Queue;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Judging the order in which an apprentice puts the steps. */
class OrderJudgeTest {

  private static final Procedure SOLDERING =
      procedure(
          List.of("clean", "set", "flux", "heat", "feed", "wash"),
          precedence("clean", "flux", "Fluxed over dirt", "the flux lifts tarnish, not grease"),
          precedence("set", "heat", "Heated before the brace was set", "it drops in the wrong place"),
          precedence("flux", "heat", "Heated before the flux was on", "hot brass tarnishes and solder runs off it"),
          precedence("heat", "feed", "Fed solder to a cold joint", "it balls up"),
          precedence("feed", "wash", "Washed before soldering", "the flux goes on after and stays"));

  @Test
  void everyOrderThatKeepsThePrecedencesIsRight() {
    for (List<String> order : List.of(
        List.of("clean", "set", "flux", "heat", "feed", "wash"),
        List.of("set", "clean", "flux", "heat", "feed", "wash"),
        List.of("clean", "flux", "set", "heat", "feed", "wash"))) {
      OrderVerdict verdict = judge(order);
      assertTrue(verdict.isRight());
      assertEquals(1, verdict.credit());
      assertEquals(List.of(), verdict.slips());
      assertEquals(ids(order), verdict.mended());
    }
    assertEquals(3, LinearExtensions.of(SOLDERING.order()).count().intValueExact());
  }

  @Test
  void aFluxPutOnAfterHeatingIsTheOneStepToMoveAndSaysWhy() {
    OrderVerdict verdict = judge(List.of("clean", "set", "heat", "flux", "feed", "wash"));
    assertFalse(verdict.isRight());
    assertEquals(1, verdict.moves().size());
    assertEquals(
        List.of("Heated before the flux was on: hot brass tarnishes and solder runs off it"),
        verdict.slips().stream().map(Precedence::objection).toList());
    assertEquals(verdict.slips(), verdict.slipsOf(StepId.of("flux")));
    assertTrue(judge(verdict.mended().stream().map(StepId::value).toList()).isRight());
  }

  @Test
  void aStepPutLastThatBelongsFirstIsOneMoveHoweverManyPrecedencesItBreaks() {
    OrderVerdict verdict = judge(List.of("set", "flux", "heat", "feed", "wash", "clean"));
    assertEquals(ids(List.of("clean")), verdict.moves());
    // clean comes before flux, heat, feed and wash; of these precedences one is stated
    assertEquals(4, verdict.tau().discordant());
    assertEquals(1, verdict.slips().size());
  }

  @Test
  void ordersThatDoNotHoldEachStepOnceAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> judge(List.of("clean", "set")));
    assertThrows(
        IllegalArgumentException.class, () -> judge(List.of("clean", "clean", "flux", "heat", "feed", "wash")));
    assertThrows(
        IllegalArgumentException.class, () -> judge(List.of("clean", "polish", "flux", "heat", "feed", "wash")));
  }

  /**
   * The oracle knows nothing of matchings: it takes steps out and puts them elsewhere, one at a time, in every way,
   * until it meets an order that works.
   */
  @Test
  void theFewestMovesEqualTryingEveryMoveOnEveryOrderOfUpToFiveElements() {
    int judged = 0;
    for (int size = 1; size <= 5; size++) {
      List<List<Integer>> sequences = Posets.sequences(size);
      int[][] neighbours = oneMoveApart(sequences);
      for (PartialOrder order : Posets.all(size)) {
        int[] distance = distances(order, sequences, neighbours);
        for (int i = 0; i < distance.length; i++) {
          check(order, sequences.get(i), distance[i]);
          judged++;
        }
      }
    }
    // OEIS A001035 times the factorials: 1 + 3*2 + 19*6 + 219*24 + 4231*120
    assertEquals(513_097, judged);
  }

  private static void check(PartialOrder order, List<Integer> sequence, int distance) {
    FewestMoves fewest = new FewestMoves(order, sequence);
    List<Integer> moved = fewest.elements();
    assertEquals(distance, moved.size(), () -> "order " + order.relations() + ", given " + sequence);
    List<Integer> mended = fewest.mended();
    assertTrue(order.isKeptBy(mended));
    assertEquals(without(sequence, moved), without(mended, moved));
  }

  /** For each sequence, the least number of moves to one that keeps the order: breadth-first from all of those. */
  private static int[] distances(PartialOrder order, List<List<Integer>> sequences, int[][] neighbours) {
    int[] distance = new int[sequences.size()];
    Arrays.fill(distance, -1);
    Queue<Integer> queue = new ArrayDeque<>();
    for (int i = 0; i < distance.length; i++) {
      if (order.isKeptBy(sequences.get(i))) {
        distance[i] = 0;
        queue.add(i);
      }
    }
    while (!queue.isEmpty()) {
      int at = queue.remove();
      for (int next : neighbours[at]) {
        if (distance[next] < 0) {
          distance[next] = distance[at] + 1;
          queue.add(next);
        }
      }
    }
    return distance;
  }

  private static int[][] oneMoveApart(List<List<Integer>> sequences) {
    return sequences.stream()
        .map(s -> oneMoveFrom(s).stream().mapToInt(sequences::indexOf).toArray())
        .toArray(int[][]::new);
  }

  private static Set<List<Integer>> oneMoveFrom(List<Integer> sequence) {
    Set<List<Integer>> found = new HashSet<>();
    for (int from = 0; from < sequence.size(); from++) {
      for (int to = 0; to < sequence.size(); to++) {
        List<Integer> moved = new ArrayList<>(sequence);
        moved.add(to, moved.remove(from));
        found.add(moved);
      }
    }
    return found;
  }

  private static List<Integer> without(List<Integer> sequence, List<Integer> moved) {
    return sequence.stream().filter(i -> !moved.contains(i)).toList();
  }

  @Test
  void theSlipsAndTheCreditEqualLookingAtEveryPairOnEveryOrderOfUpToFourSteps() {
    for (int size = 1; size <= 4; size++) {
      List<String> names = List.of("a", "b", "c", "d").subList(0, size);
      for (PartialOrder order : Posets.all(size)) {
        // a procedure lists its steps in an order that works: rename the elements by one such
        List<Integer> listed = LinearExtensions.of(order).random(new java.util.Random(size));
        Procedure procedure =
            procedure(
                listed.stream().map(names::get).toList(),
                order.covers().stream()
                    .map(p -> precedence(names.get(p.lower()), names.get(p.upper()), "slip", "why"))
                    .toArray(Precedence[]::new));
        for (List<Integer> sequence : Posets.sequences(size)) {
          checkAgainstPairs(procedure, order, sequence, names);
        }
      }
    }
  }

  private static void checkAgainstPairs(
      Procedure procedure, PartialOrder order, List<Integer> sequence, List<String> names) {
    OrderVerdict verdict = OrderJudge.judge(procedure, ids(sequence.stream().map(names::get).toList()));
    int wrong = 0;
    int related = 0;
    for (int first = 0; first < sequence.size(); first++) {
      for (int second = first + 1; second < sequence.size(); second++) {
        boolean backward = order.precedes(sequence.get(second), sequence.get(first));
        wrong += backward ? 1 : 0;
        related += backward || order.precedes(sequence.get(first), sequence.get(second)) ? 1 : 0;
      }
    }
    assertEquals(new ConstrainedTau(related - wrong, wrong), verdict.tau());
    assertEquals(wrong == 0, verdict.isRight());
    assertEquals(wrong == 0, verdict.credit() == 1);
    assertEquals(wrong == 0, verdict.slips().isEmpty());
    for (Precedence slip : verdict.slips()) {
      assertTrue(verdict.moves().contains(slip.earlier()) || verdict.moves().contains(slip.later()));
    }
    for (StepId moved : verdict.moves()) {
      assertTrue(verdict.tau().discordant() > 0, "moved without need: " + moved);
    }
  }

  // Kendall's tau of nine pairs is 0.4444: B. Habing, University of South Carolina, course page. Ranked by x, the steps
  // are a chain; ranked by y, they are the answer.
  @Test
  void forWorkWithoutChoiceTheMeasureIsKendallsTau() {
    double[] x = {44.4, 45.9, 41.9, 53.3, 44.7, 44.1, 50.7, 45.2, 60.1};
    double[] y = {2.6, 3.1, 2.5, 5.0, 3.6, 4.0, 5.2, 2.8, 3.8};
    List<String> byX = ranked(x);
    Procedure chain =
        procedure(
            byX,
            IntStream.range(1, byX.size())
                .mapToObj(i -> precedence(byX.get(i - 1), byX.get(i), "slip", "why"))
                .toArray(Precedence[]::new));
    assertEquals(0.4444, OrderJudge.judge(chain, ids(ranked(y))).tau().value(), 0.00005);
  }

  private static List<String> ranked(double[] values) {
    return IntStream.range(0, values.length)
        .boxed()
        .sorted(Comparator.comparing(i -> values[i]))
        .map(i -> "s" + i)
        .toList();
  }

  @Test
  void anOrderGuessedAtRandomIsWorthNothingOnAverageBeforeNegativeOnesAreSetToNothing() {
    List<String> names = List.of("clean", "set", "flux", "heat", "feed", "wash");
    double sum = 0;
    List<List<Integer>> sequences = Posets.sequences(6);
    for (List<Integer> sequence : sequences) {
      sum += judge(sequence.stream().map(names::get).toList()).tau().value();
    }
    assertEquals(0, sum / sequences.size(), 1e-12);
  }

  private static OrderVerdict judge(List<String> order) {
    return OrderJudge.judge(SOLDERING, ids(order));
  }

  private static List<StepId> ids(List<String> names) {
    return names.stream().map(StepId::of).toList();
  }

  private static Precedence precedence(String earlier, String later, String slip, String why) {
    return new Precedence(StepId.of(earlier), StepId.of(later), slip, why);
  }

  private static Procedure procedure(List<String> steps, Precedence... precedences) {
    return new Procedure(
        ProcedureId.of("work"), "Work", Procedure.Area.METALWORK, "trumpet", "For tests.", "made up for tests",
        steps.stream()
            .map(s -> new Step(
                StepId.of(s), s, "Do it.", List.of(), List.of(), List.of(), List.of(), List.of(), List.of()))
            .toList(),
        Arrays.asList(precedences));
  }
}

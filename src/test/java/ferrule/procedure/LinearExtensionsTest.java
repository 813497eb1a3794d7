package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.procedure.PartialOrder.Pair;
import java.math.BigInteger;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Counting the orders in which work can be done. */
class LinearExtensionsTest {

  @Test
  void workWithoutChoiceHasOneOrder() {
    for (int steps = 0; steps <= 40; steps++) {
      assertEquals(BigInteger.ONE, count(Posets.chain(steps)), steps + " steps");
    }
  }

  // by definition of the factorial
  @Test
  void stepsThatAreFreeOfEachOtherCanBeDoneInFactoriallyManyOrders() {
    BigInteger factorial = BigInteger.ONE;
    for (int steps = 1; steps <= 16; steps++) {
      factorial = factorial.multiply(BigInteger.valueOf(steps));
      assertEquals(factorial, count(Posets.antichain(steps)), steps + " steps");
    }
  }

  // The N poset has 5 linear extensions: its smallest fence of four elements, OEIS A000111(4).
  @Test
  void theNPosetHasFive() {
    PartialOrder n = PartialOrder.of(4, List.of(new Pair(0, 2), new Pair(1, 2), new Pair(1, 3)));
    assertEquals(BigInteger.valueOf(5), count(n));
  }

  // Boolean lattices B2, B3, B4: 2, 48, 1680384 (the number of the sequence, OEIS A046873, from memory).
  @Test
  void booleanLatticesHaveThePublishedNumbers() {
    assertEquals(BigInteger.TWO, count(Posets.subsetsOf(2)));
    assertEquals(BigInteger.valueOf(48), count(Posets.subsetsOf(3)));
    assertEquals(BigInteger.valueOf(1_680_384), count(Posets.subsetsOf(4)));
  }

  // Euler's zig-zag numbers from one element on, OEIS A000111.
  @Test
  void fencesHaveTheZigZagNumbers() {
    List<Long> published = List.of(1L, 1L, 2L, 5L, 16L, 61L, 272L, 1385L, 7936L, 50521L);
    for (int elements = 1; elements <= published.size(); elements++) {
      assertEquals(
          BigInteger.valueOf(published.get(elements - 1)), count(Posets.fence(elements)), elements + " elements");
    }
  }

  // The hook length formula (Frame, Robinson and Thrall 1954): 3x2 gives 5, 3x3 gives 42; 4x4 gives 16! over the
  // product of the hooks 7 6 5 4 / 6 5 4 3 / 5 4 3 2 / 4 3 2 1, which is 24024.
  @Test
  void gridsHaveTheNumbersOfTheHookRule() {
    assertEquals(BigInteger.valueOf(5), count(Posets.grid(3, 2)));
    assertEquals(BigInteger.valueOf(42), count(Posets.grid(3, 3)));
    assertEquals(BigInteger.valueOf(24_024), count(Posets.grid(4, 4)));
  }

  // The numbers of partial orders on named elements: 1, 3, 19, 219, 4231 (OEIS A001035).
  @Test
  void countsEqualTryingEverySequenceOnEveryOrderOfUpToFiveElements() {
    List<Integer> numbers = List.of(1, 1, 3, 19, 219, 4231);
    for (int size = 0; size <= 5; size++) {
      List<List<Integer>> sequences = Posets.sequences(size);
      assertEquals(numbers.get(size), Posets.all(size).size());
      for (PartialOrder order : Posets.all(size)) {
        long kept = sequences.stream().filter(order::isKeptBy).count();
        assertEquals(BigInteger.valueOf(kept), count(order), () -> "order " + order.relations());
      }
    }
  }

  @Test
  void ordersDrawnAtRandomAreEquallyLikely() {
    PartialOrder order = Posets.fence(5);
    LinearExtensions extensions = LinearExtensions.of(order);
    Map<List<Integer>, Integer> drawn = new HashMap<>();
    Random random = new Random(16);
    for (int i = 0; i < 16_000; i++) {
      drawn.merge(extensions.random(random), 1, Integer::sum);
    }
    assertTrue(drawn.keySet().stream().allMatch(order::isKeptBy));
    assertEquals(16, drawn.size());
    // chi-square with 15 degrees of freedom: 37.7 is passed by chance once in 1,000 (standard table, from memory)
    double chiSquare = drawn.values().stream().mapToDouble(n -> (n - 1000.0) * (n - 1000.0) / 1000).sum();
    assertTrue(chiSquare < 37.7, "chi-square " + chiSquare);
  }

  @Test
  void pairsThatGoInACircleAreRefused() {
    assertThrows(
        IllegalArgumentException.class,
        () -> PartialOrder.of(3, List.of(new Pair(0, 1), new Pair(1, 2), new Pair(2, 0))));
  }

  @Test
  void coversAreTheFewestPairsThatGiveTheOrder() {
    for (PartialOrder order : Posets.all(4)) {
      assertEquals(order.relations(), PartialOrder.of(4, order.covers()).relations());
      for (Pair dropped : order.covers()) {
        List<Pair> fewer = order.covers().stream().filter(p -> !p.equals(dropped)).toList();
        assertTrue(!PartialOrder.of(4, fewer).relations().contains(dropped), () -> "dropped " + dropped);
      }
    }
  }

  private static BigInteger count(PartialOrder order) {
    return LinearExtensions.of(order).count();
  }
}

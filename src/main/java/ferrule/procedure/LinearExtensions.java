package ferrule.procedure;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/**
 * The linear extensions of a partial order: the sequences of all its elements that keep it. Counted exactly, and drawn
 * at random, each with the same chance.
 *
 * <p>The idea: what can still be done depends only on the set of what has been done, not on its sequence. Such a set is
 * a down-set of the order. The number of ways to finish from a down-set is the sum, over the elements available after
 * it, of the ways to finish from the down-set with that element added; from the full set it is one. Each down-set is
 * reckoned once, so that the cost is the number of down-sets times the number of elements: a handful for a near-chain,
 * 2^n for n elements without any constraint. Counting linear extensions is #P-complete (Brightwell and Winkler, Order
 * 8, 1991, 225-242; from memory), so that no method is fast for every order; procedures of at most 16 steps never have
 * more than 65,536 down-sets.
 */
public final class LinearExtensions {

  private final PartialOrder order;
  private final Map<Long, BigInteger> waysToFinish = new HashMap<>();

  private LinearExtensions(PartialOrder order) {
    this.order = order;
    ways(0L);
  }

  /** The linear extensions of an order. */
  public static LinearExtensions of(PartialOrder order) {
    return new LinearExtensions(order);
  }

  /** How many there are. */
  public BigInteger count() {
    return waysToFinish.get(0L);
  }

  private BigInteger ways(long done) {
    BigInteger known = waysToFinish.get(done);
    if (known != null) {
      return known;
    }
    long available = order.availableAfter(done);
    BigInteger ways = available == 0 ? BigInteger.ONE : BigInteger.ZERO;
    for (long rest = available; rest != 0; rest &= rest - 1) {
      ways = ways.add(ways(done | Long.lowestOneBit(rest)));
    }
    waysToFinish.put(done, ways);
    return ways;
  }

  /** One of them, each with the same chance. */
  public List<Integer> random(Random random) {
    List<Integer> sequence = new ArrayList<>();
    long done = 0;
    while (sequence.size() < order.size()) {
      int next = pick(done, random);
      sequence.add(next);
      done |= 1L << next;
    }
    return sequence;
  }

  private int pick(long done, Random random) {
    BigInteger ticket = below(waysToFinish.get(done), random);
    long rest = order.availableAfter(done);
    while (true) {
      BigInteger ways = waysToFinish.get(done | Long.lowestOneBit(rest));
      if (ticket.compareTo(ways) < 0) {
        return Long.numberOfTrailingZeros(rest);
      }
      ticket = ticket.subtract(ways);
      rest &= rest - 1;
    }
  }

  private static BigInteger below(BigInteger bound, Random random) {
    BigInteger number;
    do {
      number = new BigInteger(bound.bitLength(), random);
    } while (number.compareTo(bound) >= 0);
    return number;
  }
}

package ferrule.drill.form;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;

/**
 * One form while it is drawn: a slot for each item, filled so that no two are about the same.
 *
 * <p>Slots are filled one after the other, each with the candidate that the lot puts first; where what it is about is
 * taken, the slot that has it looks for another, and so on along an augmenting path (H. W. Kuhn, The Hungarian method for
 * the assignment problem, 1955). So every slot is filled that can be.
 */
final class Draw<T> {

  private final List<Cell<T>> cells;
  private final int[] cellOf;
  private final List<List<Candidate<T>>> inDrawnOrder = new ArrayList<>();
  private final List<Map<String, Candidate<T>>> bySubject = new ArrayList<>();
  private final List<Optional<Candidate<T>>> filled = new ArrayList<>();
  private final Map<String, Integer> takenBy = new HashMap<>();

  /** Draws a form by lot. */
  Draw(List<Cell<T>> cells, RandomGenerator random) {
    this.cells = cells;
    this.cellOf = slots(cells);
    for (Cell<T> cell : cells) {
      List<Candidate<T>> drawn = drawn(cell.candidates(), random);
      inDrawnOrder.add(drawn);
      Map<String, Candidate<T>> subjects = new HashMap<>();
      drawn.forEach(c -> subjects.putIfAbsent(c.once(), c));
      bySubject.add(subjects);
    }
    for (int slot = 0; slot < cellOf.length; slot++) {
      filled.add(Optional.empty());
      fill(slot, new HashSet<>());
    }
  }

  private static int[] slots(List<? extends Cell<?>> cells) {
    int[] cellOf = new int[cells.stream().mapToInt(Cell::number).sum()];
    int slot = 0;
    for (int cell = 0; cell < cells.size(); cell++) {
      Arrays.fill(cellOf, slot, slot += cells.get(cell).number(), cell);
    }
    return cellOf;
  }

  /**
   * The candidates as if they were drawn one by one, each with a chance in proportion to its weight (P. S. Efraimidis, P. G.
   * Spirakis, Weighted random sampling with a reservoir, 2006: by the logarithm of a random number divided by the weight).
   */
  private static <T> List<Candidate<T>> drawn(List<Candidate<T>> candidates, RandomGenerator random) {
    record Lot<T>(Candidate<T> candidate, double key) {}
    return candidates.stream()
        .map(c -> new Lot<>(c, Math.log(1 - random.nextDouble()) / c.weight()))
        .sorted(Comparator.comparingDouble((Lot<T> lot) -> lot.key()).reversed())
        .map(Lot::candidate)
        .toList();
  }

  private boolean fill(int slot, Set<String> tried) {
    for (Candidate<T> candidate : inDrawnOrder.get(cellOf[slot])) {
      if (tried.add(candidate.once())) {
        Integer holder = takenBy.get(candidate.once());
        if (holder == null || fill(holder, tried)) {
          put(slot, candidate);
          return true;
        }
      }
    }
    return false;
  }

  private void put(int slot, Candidate<T> candidate) {
    filled.get(slot).filter(before -> takenBy.get(before.once()) == slot).ifPresent(b -> takenBy.remove(b.once()));
    filled.set(slot, Optional.of(candidate));
    takenBy.put(candidate.once(), slot);
  }

  boolean isFull() {
    return filled.stream().allMatch(Optional::isPresent);
  }

  /** A change of one slot or of two, and what it does to the expected score. */
  private record Move<T>(int slot, Candidate<T> gets, int other, Candidate<T> otherGets, double gain) {}

  /** Exchanges items as long as that brings the expected score nearer to a target, until it is within so much of it. */
  void approach(double target, double within) {
    double off = target - expected();
    while (Math.abs(off) > within) {
      Optional<Move<T>> best = bestMove(off);
      if (best.isEmpty()) {
        return;
      }
      make(best.get());
      off = target - expected();
    }
  }

  private void make(Move<T> move) {
    if (move.other() >= 0) {
      put(move.other(), move.otherGets());
    }
    put(move.slot(), move.gets());
  }

  private Optional<Move<T>> bestMove(double off) {
    Move<T> best = null;
    double left = Math.abs(off);
    for (Move<T> move : moves()) {
      if (Math.abs(off - move.gain()) < left - 1e-12) {
        best = move;
        left = Math.abs(off - move.gain());
      }
    }
    return Optional.ofNullable(best);
  }

  private List<Move<T>> moves() {
    List<Move<T>> moves = new ArrayList<>();
    for (int slot = 0; slot < cellOf.length; slot++) {
      if (filled.get(slot).isPresent()) {
        addReplacements(slot, filled.get(slot).get(), moves);
        addExchanges(slot, filled.get(slot).get(), moves);
      }
    }
    return moves;
  }

  private void addReplacements(int slot, Candidate<T> now, List<Move<T>> moves) {
    for (Candidate<T> other : inDrawnOrder.get(cellOf[slot])) {
      if (!takenBy.containsKey(other.once()) || other.once().equals(now.once())) {
        moves.add(new Move<>(slot, other, -1, other, other.chance() - now.chance()));
      }
    }
  }

  /** Two slots of different cells ask about what the other one asked about. */
  private void addExchanges(int slot, Candidate<T> now, List<Move<T>> moves) {
    for (int other = slot + 1; other < cellOf.length; other++) {
      if (cellOf[other] != cellOf[slot] && filled.get(other).isPresent()) {
        Candidate<T> there = filled.get(other).get();
        Candidate<T> here = bySubject.get(cellOf[slot]).get(there.once());
        Candidate<T> away = bySubject.get(cellOf[other]).get(now.once());
        if (here != null && away != null) {
          double gain = here.chance() + away.chance() - now.chance() - there.chance();
          moves.add(new Move<>(slot, here, other, away, gain));
        }
      }
    }
  }

  private double expected() {
    return filled.stream().flatMap(Optional::stream).mapToDouble(Candidate::chance).sum();
  }

  /** What has been drawn. */
  Form<T> form() {
    List<List<Candidate<T>>> byCell = new ArrayList<>();
    cells.forEach(cell -> byCell.add(new ArrayList<>()));
    for (int slot = 0; slot < cellOf.length; slot++) {
      List<Candidate<T>> cell = byCell.get(cellOf[slot]);
      filled.get(slot).ifPresent(cell::add);
    }
    return new Form<>(byCell);
  }
}

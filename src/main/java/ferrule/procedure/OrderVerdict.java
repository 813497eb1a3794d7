package ferrule.procedure;

import java.util.ArrayList;
import java.util.List;

/**
 * What is to be said about an order in which an apprentice put the steps of a procedure.
 *
 * @param given the order that was given
 * @param moves the fewest steps to move so that the order works, in the order given; empty if it works as it is
 * @param slips the precedences that the order breaks; each has at least one of the moved steps in it
 * @param mended an order that works, in which all but the moved steps keep the order given
 * @param tau how far the order agrees with the procedure
 */
public record OrderVerdict(
    List<StepId> given, List<StepId> moves, List<Precedence> slips, List<StepId> mended, ConstrainedTau tau) {

  /** Copies the lists. */
  public OrderVerdict {
    given = List.copyOf(given);
    moves = List.copyOf(moves);
    slips = List.copyOf(slips);
    mended = List.copyOf(mended);
  }

  /** Whether the work can be done in the order given. */
  public boolean isRight() {
    return moves.isEmpty();
  }

  /** The share of full credit, 0 to 1; 1 only for an order that works. */
  public double credit() {
    return tau.credit();
  }

  /**
   * A step to move.
   *
   * @param from its place in the order given, from 1
   * @param to its place in the order that works, from 1
   * @param broken the precedences that it is moved for, told with it
   */
  public record Move(StepId step, int from, int to, List<Precedence> broken) {

    /** Copies the list. */
    public Move {
      broken = List.copyOf(broken);
    }
  }

  /** Each step to move, each slip with the first of them that it concerns, unless another would be left without one. */
  public List<Move> toMove() {
    List<Precedence> untold = new ArrayList<>(slips);
    List<Move> told = new ArrayList<>();
    for (StepId step : moves) {
      List<Precedence> own = slipsOf(step);
      List<Precedence> news = own.stream().filter(untold::contains).toList();
      List<Precedence> here = news.isEmpty() ? own : news;
      untold.removeAll(here);
      told.add(new Move(step, given.indexOf(step) + 1, mended.indexOf(step) + 1, here));
    }
    return List.copyOf(told);
  }

  /** The precedences that are broken with this step in them. */
  public List<Precedence> slipsOf(StepId step) {
    return slips.stream().filter(p -> p.earlier().equals(step) || p.later().equals(step)).toList();
  }
}

package ferrule.procedure;

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

  /** The precedences that are broken with this step in them. */
  public List<Precedence> slipsOf(StepId step) {
    return slips.stream().filter(p -> p.earlier().equals(step) || p.later().equals(step)).toList();
  }
}

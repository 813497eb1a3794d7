package ferrule.procedure;

import java.util.List;

/** Judges orders in which the steps of a procedure are put. */
public final class OrderJudge {

  private OrderJudge() {}

  /**
   * The verdict on an order. Every order that keeps the precedences is right, whatever order the steps are listed in.
   *
   * @throws IllegalArgumentException if the order does not hold each step of the procedure once
   */
  public static OrderVerdict judge(Procedure procedure, List<StepId> given) {
    List<Integer> sequence = given.stream().map(procedure::indexOf).toList();
    int[] place = procedure.order().places(sequence);
    FewestMoves fewest = new FewestMoves(procedure.order(), sequence);
    List<Integer> moved = fewest.elements();
    return new OrderVerdict(
        given,
        sequence.stream().filter(moved::contains).map(procedure.stepIds()::get).toList(),
        slips(procedure, place),
        fewest.mended().stream().map(procedure.stepIds()::get).toList(),
        tau(procedure.order(), place));
  }

  // An order that breaks any relation breaks a stated precedence: along the chain of precedences from one element to
  // the other, some neighbours must stand the wrong way round.
  private static List<Precedence> slips(Procedure procedure, int[] place) {
    return procedure.precedences().stream()
        .filter(p -> place[procedure.indexOf(p.earlier())] > place[procedure.indexOf(p.later())])
        .toList();
  }

  private static ConstrainedTau tau(PartialOrder order, int[] place) {
    List<PartialOrder.Pair> related = order.relations();
    int wrong = (int) related.stream().filter(p -> place[p.lower()] > place[p.upper()]).count();
    return new ConstrainedTau(related.size() - wrong, wrong);
  }
}

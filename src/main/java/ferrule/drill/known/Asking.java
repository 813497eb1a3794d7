package ferrule.drill.known;

/**
 * How a part was asked for, as far as it matters to what an answer proves.
 *
 * @param guess the chance of a right answer by somebody who does not know the part: 1/k where k answers are offered,
 *     0 where a name is typed; from 0 and below 1
 * @param ease by how much the question is easier than naming the part by typing, in units of log odds; 0 for typing
 */
public record Asking(double guess, double ease) {

  /**
   * The chance of a wrong answer by somebody who knows the part: a slip of the hand or of attention. Our own estimate,
   * no source; misspellings are not slips, since names are read with them.
   */
  public static final double SLIP = 0.03;

  /** Recognising a part is easier than recalling its name. Our own estimate, no source: odds of 2 to 1. */
  private static final double RECOGNISED = Math.log(2);

  /** Checks the ranges. */
  public Asking {
    if (!(guess >= 0 && guess < 1) || !(ease >= 0)) {
      throw new IllegalArgumentException("guess is from 0 and below 1, ease from 0; given: " + guess + ", " + ease);
    }
  }

  /** The part's name is typed. */
  public static Asking named() {
    return new Asking(0, 0);
  }

  /**
   * One of several is chosen, among names or among shapes on a drawing.
   *
   * @param choices how many could be chosen by somebody who does not know the part; at least 2
   */
  public static Asking chosenAmong(int choices) {
    if (choices < 2) {
      throw new IllegalArgumentException("a choice has at least 2 answers; given: " + choices);
    }
    return new Asking(1.0 / choices, RECOGNISED);
  }

  /**
   * The chance of a right answer: the response equation of knowledge tracing (Corbett and Anderson, User Modeling and
   * User-Adapted Interaction 4, 1995, 253-278).
   *
   * @param known the chance that the part is known, from 0 to 1
   */
  public double right(double known) {
    return right(known, guess, SLIP);
  }

  static double right(double known, double guess, double slip) {
    return known * (1 - slip) + (1 - known) * guess;
  }
}

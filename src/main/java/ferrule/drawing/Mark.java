package ferrule.drawing;

/** How one part is set apart from the others in a picture. Each mark is more than a colour. */
public sealed interface Mark permits Mark.Lit, Mark.Dimmed, Mark.Hidden, Mark.Value {

  /** Strong colour and a heavy outline. */
  Mark LIT = new Lit();
  /** Pale, with thin outlines. */
  Mark DIMMED = new Dimmed();
  /** Left out. */
  Mark HIDDEN = new Hidden();

  /**
   * Coloured and hatched by a value: the more, the denser.
   *
   * @param share from 0 to 1
   */
  static Mark value(double share) {
    return new Value(share);
  }

  /** See {@link #LIT}. */
  record Lit() implements Mark {}

  /** See {@link #DIMMED}. */
  record Dimmed() implements Mark {}

  /** See {@link #HIDDEN}. */
  record Hidden() implements Mark {}

  /** See {@link #value}. */
  record Value(double share) implements Mark {

    /** The number of steps of the scale. */
    public static final int STEPS = 5;

    /** Checks the range. */
    public Value {
      if (!(share >= 0 && share <= 1)) {
        throw new IllegalArgumentException("a value to colour by is from 0 to 1; given " + share);
      }
    }

    /** The step on the scale, from 0 to {@link #STEPS} - 1. */
    public int step() {
      return Math.min(STEPS - 1, (int) (share * STEPS));
    }
  }
}

package ferrule.competency;

/** How an apprentice stands in one competency, in the least that counting needs. */
public enum State {
  /** Complete. */
  COMPLETE('c'),
  /** Was complete and has to be shown again. */
  LAPSED('l'),
  /** Something speaks for it. */
  BEGUN('b'),
  /** Nothing speaks for it. */
  NOT_BEGUN('n');

  private final char letter;

  State(char letter) {
    this.letter = letter;
  }

  /** The letter by which it is kept. */
  char letter() {
    return letter;
  }

  /** The state with this letter; throws {@link IllegalArgumentException} for any other character. */
  static State of(char letter) {
    return switch (letter) {
      case 'c' -> COMPLETE;
      case 'l' -> LAPSED;
      case 'b' -> BEGUN;
      case 'n' -> NOT_BEGUN;
      default -> throw new IllegalArgumentException("no state has the letter " + letter);
    };
  }

  /** The state that a verdict amounts to. */
  public static State of(Verdict verdict) {
    if (verdict.isMet()) {
      return COMPLETE;
    }
    return verdict.isLapsed() ? LAPSED : verdict.isBegun() ? BEGUN : NOT_BEGUN;
  }
}

package ferrule.report.items;

/**
 * What to do about an item, from its figures. The bounds of discrimination are those of R. L. Ebel and D. A. Frisbie
 * (Essentials of Educational Measurement, 1991; from memory): below 0.2 an item tells little, below 0 it misleads. Those of
 * difficulty and of how many answers it takes are our own.
 */
public enum Advice {
  /** Fewer answers than {@value #ANSWERS_FOR_DIFFICULTY}: nothing is said. */
  TOO_FEW("Too few answers yet to say anything."),
  /** Those who do well elsewhere do worse here. */
  MISLEADS("Those who know the rest get it wrong more often than the others: look at the picture and at what counts as right."),
  /** Fewer than three in ten have it right. */
  HARD("Most get it wrong: teach it again before asking it again."),
  /** Nearly all have it right. */
  EASY("Nearly all get it right: ask it less."),
  /** Who does well elsewhere does hardly better here. */
  TELLS_LITTLE("It hardly tells those who know the parts from those who do not."),
  /** Nothing to do. */
  SOUND("Sound.");

  /** How many answers it takes before an item is called hard or easy. */
  public static final int ANSWERS_FOR_DIFFICULTY = 8;

  /** How many answers it takes before anything is said of what an item tells. */
  public static final int ANSWERS_FOR_DISCRIMINATION = 20;

  private static final double FEW_RIGHT = 0.3;
  private static final double NEARLY_ALL = 0.95;
  private static final double LITTLE = 0.2;

  private final String sentence;

  Advice(String sentence) {
    this.sentence = sentence;
  }

  /** The advice in a sentence for an instructor. */
  public String sentence() {
    return sentence;
  }

  /** The advice that these figures call for: of several the one that matters most. */
  public static Advice on(ItemFigures item) {
    if (item.asked() < ANSWERS_FOR_DIFFICULTY) {
      return TOO_FEW;
    }
    boolean telling = item.asked() >= ANSWERS_FOR_DISCRIMINATION && item.discrimination().isPresent();
    if (telling && item.discrimination().getAsDouble() < 0) {
      return MISLEADS;
    }
    if (item.difficulty() < FEW_RIGHT) {
      return HARD;
    }
    if (item.difficulty() > NEARLY_ALL) {
      return EASY;
    }
    return telling && item.discrimination().getAsDouble() < LITTLE ? TELLS_LITTLE : SOUND;
  }
}

package ferrule.competency;

/** How a verdict is called wherever it is shown. */
public final class VerdictWords {

  private VerdictWords() {}

  /** "complete", "lapsed", "begun" or "not begun". */
  public static String word(Verdict verdict) {
    return switch (State.of(verdict)) {
      case COMPLETE -> "complete";
      case LAPSED -> "lapsed";
      case BEGUN -> "begun";
      case NOT_BEGUN -> "not begun";
    };
  }

  /** The sort of tag that shows it: {@code good}, {@code bad}, {@code open} or {@code idle}. */
  public static String state(Verdict verdict) {
    return switch (State.of(verdict)) {
      case COMPLETE -> "good";
      case LAPSED -> "bad";
      case BEGUN -> "open";
      case NOT_BEGUN -> "idle";
    };
  }
}

package ferrule.competency;

/** How a verdict is called wherever it is shown. */
public final class VerdictWords {

  private VerdictWords() {}

  /** "complete", "begun" or "not begun". */
  public static String word(Verdict verdict) {
    return verdict.isMet() ? "complete" : verdict.isBegun() ? "begun" : "not begun";
  }

  /** The sort of tag that shows it: {@code good}, {@code open} or {@code idle}. */
  public static String state(Verdict verdict) {
    return verdict.isMet() ? "good" : verdict.isBegun() ? "open" : "idle";
  }
}

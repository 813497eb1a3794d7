package ferrule.competency;

/** How a verdict is called wherever it is shown. */
public final class VerdictWords {

  private VerdictWords() {}

  /** "complete", "lapsed", "begun" or "not begun". */
  public static String word(Verdict verdict) {
    if (verdict.isMet()) {
      return "complete";
    }
    return verdict.isLapsed() ? "lapsed" : verdict.isBegun() ? "begun" : "not begun";
  }

  /** The sort of tag that shows it: {@code good}, {@code bad}, {@code open} or {@code idle}. */
  public static String state(Verdict verdict) {
    if (verdict.isMet()) {
      return "good";
    }
    return verdict.isLapsed() ? "bad" : verdict.isBegun() ? "open" : "idle";
  }
}

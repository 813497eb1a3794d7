package ferrule.naming;

/**
 * What each verdict is worth in a drill, each from 0 (nothing) to 1 (full credit).
 *
 * @param right the preferred term
 * @param synonym another trade term
 * @param colloquial an everyday name; 0 in a drill that does not accept them
 * @param tooVague a name that fits the part and others
 * @param wrongQualifier the right sort of part, one qualifier wrong
 */
public record CreditPolicy(double right, double synonym, double colloquial, double tooVague, double wrongQualifier) {

  /** Checks the range of each credit. */
  public CreditPolicy {
    require("right", right);
    require("synonym", synonym);
    require("colloquial", colloquial);
    require("too vague", tooVague);
    require("wrong qualifier", wrongQualifier);
  }

  private static void require(String name, double credit) {
    if (!(credit >= 0 && credit <= 1)) {
      throw new IllegalArgumentException("credit for " + name + " is from 0 to 1, given " + credit);
    }
  }

  /** Full credit for trade terms, half for an everyday name or one that is too vague, a quarter for one wrong qualifier. */
  public static CreditPolicy standard() {
    return new CreditPolicy(1, 1, 0.5, 0.5, 0.25);
  }

  /** The same policy, with everyday names accepted in full or not at all. */
  public CreditPolicy withColloquial(boolean accepted) {
    return new CreditPolicy(right, synonym, accepted ? 1 : 0, tooVague, wrongQualifier);
  }

  /** What a verdict is worth. */
  public double credit(Verdict verdict) {
    if (verdict instanceof Verdict.Right) {
      return right;
    } else if (verdict instanceof Verdict.RightSynonym) {
      return synonym;
    } else if (verdict instanceof Verdict.RightColloquial) {
      return colloquial;
    } else if (verdict instanceof Verdict.TooVague) {
      return tooVague;
    }
    return verdict instanceof Verdict.WrongQualifier ? wrongQualifier : 0;
  }
}

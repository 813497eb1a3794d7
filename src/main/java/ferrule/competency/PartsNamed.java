package ferrule.competency;

import org.hipparchus.stat.interval.BinomialProportion;

/**
 * How many parts of an assembly were named right when they were last asked for.
 *
 * @param right how many
 * @param asked how many were asked for at all
 * @param of how many there are to ask for, at least 1
 */
public record PartsNamed(int right, int asked, int of) {

  /** The confidence at which a share is sure. */
  public static final double CONFIDENCE = 0.95;

  /** Checks the range. */
  public PartsNamed {
    if (right < 0 || of < 1 || right > asked || asked > of) {
      throw new IllegalArgumentException("given " + right + " right of " + asked + " asked of " + of + " parts");
    }
  }

  /**
   * The share of parts that is sure to be named right, 0 to 1: the lower limit of the two-sided interval at 95 % of
   * E. B. Wilson (Journal of the American Statistical Association 22, 1927), from the parts asked for; 0 if none was.
   */
  public double sure() {
    return sure(right, asked);
  }

  static double sure(int right, int asked) {
    return asked == 0 ? 0
        : Math.max(0, BinomialProportion.getWilsonScoreInterval(asked, (double) right / asked, CONFIDENCE).getLowerBound());
  }

  /**
   * How many further right answers, each for a part that is not right yet, it takes until this share is sure; as many
   * as there are such parts if that is never reached. Parts that were named wrong come first, because putting one right
   * makes more sure than asking for one more.
   */
  int untilSure(double share) {
    for (int more = 0; more < of - right; more++) {
      if (sure(right + more, Math.max(asked, right + more)) >= share) {
        return more;
      }
    }
    return of - right;
  }
}

package ferrule.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;

/**
 * What was found for one criterion. It holds the criterion's own words, so that a record still says what was signed
 * when the curriculum has moved on.
 */
public sealed interface Finding {

  /** The criterion's stable name within its task. */
  String criterion();

  /** What was looked at. */
  String title();

  /** Whether the work cannot meet the standard without it. */
  boolean critical();

  /** How much it counts beside the others. */
  int weight();

  /** Whether the criterion is passed. */
  boolean passes();

  /** Whether it could not be better: the highest level, or a reading within its limits. */
  boolean isBest();

  /** What was found, in a sentence without a full stop. */
  String sentence();

  /**
   * A rating.
   *
   * @param level the level chosen, counted from 1
   * @param levels how many there are
   * @param passLevel the lowest that passes
   * @param wording the chosen level's words
   */
  record Rated(
      String criterion,
      String title,
      boolean critical,
      int weight,
      int level,
      int levels,
      int passLevel,
      String wording)
      implements Finding {

    @Override
    public boolean passes() {
      return level >= passLevel;
    }

    @Override
    public boolean isBest() {
      return level == levels;
    }

    @Override
    public String sentence() {
      return "level " + level + " of " + levels + ": " + wording.replaceFirst("\\.$", "");
    }
  }

  /**
   * A reading and its verdict.
   *
   * @param quantity what was measured
   * @param reading as it was read
   * @param unit of limits and uncertainty
   * @param limits that it was judged by
   * @param gauge what it was read on, in words
   * @param expandedUncertainty of the reading, coverage factor 2
   * @param rule how it was judged
   * @param verdict the outcome
   */
  record Measured(
      String criterion,
      String title,
      boolean critical,
      int weight,
      String quantity,
      Reading reading,
      Unit unit,
      Limits limits,
      String gauge,
      BigDecimal expandedUncertainty,
      DecisionRule rule,
      Conformity verdict)
      implements Finding {

    @Override
    public boolean passes() {
      return verdict == Conformity.CONFORMING;
    }

    @Override
    public boolean isBest() {
      return passes();
    }

    /** How likely it is that the true value lies within the limits although a gauge is never exact, 0 to 1. */
    public double conformance() {
      return Conformance.probability(reading.in(unit), limits, expandedUncertainty);
    }

    /** The chance that this verdict is wrong, in words such as "accepted wrongly with a chance of 2.3 %". */
    public String risk() {
      double inside = conformance();
      return switch (verdict) {
        case CONFORMING -> "accepted wrongly with a chance " + percent(1 - inside);
        case NOT_CONFORMING -> "rejected wrongly with a chance " + percent(inside);
        case UNDECIDED -> "within the limits with a chance " + percent(inside);
      };
    }

    private static String percent(double chance) {
      if (chance < 0.001) {
        return "below 0.1\u00a0%";
      }
      return chance > 0.999 ? "above 99.9\u00a0%" : String.format(Locale.ROOT, chance < 0.1 ? "of %.1f\u00a0%%" : "of %.0f\u00a0%%", 100 * chance);
    }

    @Override
    public String sentence() {
      String read = reading.unit() == unit ? reading.toString()
          : reading + " = " + reading.in(unit).round(new MathContext(4)).toPlainString() + " " + unit.symbol();
      String judged = read + ", " + verdict.words() + " (" + limits.inWords(unit) + ", " + limits.source() + ")";
      return verdict == Conformity.UNDECIDED ? judged + "; read it again on a finer gauge" : judged;
    }
  }
}

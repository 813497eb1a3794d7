package ferrule.bench;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;

/** One thing that a task is graded by: either rated on levels or measured. */
public sealed interface Criterion {

  /** Its stable name within the task. */
  String id();

  /** What is looked at. */
  String title();

  /** Whether the work cannot meet the standard without it. */
  boolean critical();

  /** How much it counts beside the others, 1 to 10. */
  int weight();

  /**
   * Rated by choosing the level whose words fit the work.
   *
   * @param levels from the worst to the best, each worded for this criterion
   * @param passLevel the lowest level that passes, counted from 1
   */
  record Rated(String id, String title, boolean critical, int weight, List<String> levels, int passLevel)
      implements Criterion {

    /** Copies the levels and checks that the pass level is one of them, and not the first. */
    public Rated {
      levels = List.copyOf(levels);
      if (passLevel < 2 || passLevel > levels.size()) {
        throw new IllegalArgumentException(
            "criterion " + id + " has levels 1 to " + levels.size() + " and passes from 2 or above; given: " + passLevel);
      }
    }

    /**
     * The finding that the work is at this level.
     *
     * @throws IllegalArgumentException if there is no such level
     */
    public Finding.Rated at(int level) {
      if (level < 1 || level > levels.size()) {
        throw new IllegalArgumentException("“" + title + "” has levels 1 to " + levels.size() + "; given: " + level);
      }
      return new Finding.Rated(
          id, title, critical, weight, level, levels.size(), passLevel, levels.get(level - 1));
    }
  }

  /**
   * Measured with a gauge and judged against limits.
   *
   * @param quantity what is measured
   * @param unit of nominal, limits, gauge and bare readings
   * @param nominal what it would ideally be
   * @param limits empty where none is published, and the instructor sets their own with each grade
   * @param gauge what it is read on
   * @param rule how a reading near a limit is judged
   */
  record Measured(
      String id,
      String title,
      boolean critical,
      int weight,
      String quantity,
      Unit unit,
      Optional<BigDecimal> nominal,
      Optional<Limits> limits,
      Gauge gauge,
      DecisionRule rule)
      implements Criterion {

    /** Checks that the nominal value keeps the limits and that the gauge is fine enough to accept anything. */
    public Measured {
      Optional<BigDecimal> aimedAt = nominal;
      limits.ifPresent(
          l -> {
            aimedAt.filter(n -> !l.contain(n)).ifPresent(
                n -> {
                  throw new IllegalArgumentException(
                      "the nominal value keeps the limits of " + l.inWords(unit) + "; given: " + n.toPlainString());
                });
            if (!rule.canAccept(l, gauge.expandedUncertainty())) {
              throw new IllegalArgumentException(
                  "the guard bands of this gauge leave nothing between the limits; expected a finer gauge");
            }
          });
    }

    /** Whether the instructor sets the limits. */
    public boolean limitsBelongToInstructor() {
      return limits.isEmpty();
    }

    /** The finding of a reading judged against these limits. */
    public Finding.Measured measured(Reading reading, Limits applied) {
      BigDecimal uncertainty = gauge.expandedUncertainty();
      return new Finding.Measured(
          id, title, critical, weight, quantity, reading, unit, applied, gauge.inWords(unit), uncertainty, rule,
          rule.judge(reading.in(unit), applied, uncertainty));
    }
  }
}

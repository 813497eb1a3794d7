package ferrule.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;
import java.util.Optional;

/**
 * A task's criteria with what has been entered for each so far: a finding, or what is still to be done.
 *
 * @param task the work
 * @param lines one for each criterion, in the task's order
 */
public record Grading(Task task, List<Line> lines) {

  /**
   * One criterion.
   *
   * @param criterion what is looked at
   * @param finding what was found, once the entry is complete and can be read
   * @param open what is still to be done, in a sentence; empty once there is a finding
   * @param faulty whether something was entered that cannot be read
   */
  public record Line(Criterion criterion, Optional<Finding> finding, String open, boolean faulty) {}

  /** Copies the lines. */
  public Grading {
    lines = List.copyOf(lines);
  }

  /** The grading of a task by these entries. */
  public static Grading of(Task task, Entries entries) {
    return new Grading(task, task.criteria().stream().map(c -> line(c, entries)).toList());
  }

  private static Line line(Criterion criterion, Entries entries) {
    if (criterion instanceof Criterion.Rated rated) {
      return rate(rated, entries);
    }
    return measure((Criterion.Measured) criterion, entries);
  }

  private static Line rate(Criterion.Rated rated, Entries entries) {
    return Optional.ofNullable(entries.levels().get(rated.id()))
        .filter(level -> level >= 1 && level <= rated.levels().size())
        .map(level -> found(rated, rated.at(level)))
        .orElseGet(() -> new Line(rated, Optional.empty(), "Choose a level.", false));
  }

  private static Line measure(Criterion.Measured measured, Entries entries) {
    String typed = entries.readings().getOrDefault(measured.id(), "");
    try {
      Optional<Limits> limits = measured.limits().or(() -> own(measured, entries));
      if (typed.isEmpty()) {
        String first = limits.isEmpty() ? "Set your limits and enter the reading." : "Enter the reading.";
        return new Line(measured, Optional.empty(), first, false);
      }
      Reading reading = Reading.parse(typed, measured.unit());
      return limits.map(l -> found(measured, measured.measured(reading, l)))
          .orElseGet(() -> new Line(measured, Optional.empty(), "Set a lower limit, an upper limit, or both.", false));
    } catch (IllegalArgumentException e) {
      return new Line(measured, Optional.empty(), sentence(e.getMessage()), true);
    }
  }

  private static Optional<Limits> own(Criterion.Measured measured, Entries entries) {
    Optional<BigDecimal> lower = limit(entries.lowers().get(measured.id()), measured.unit());
    Optional<BigDecimal> upper = limit(entries.uppers().get(measured.id()), measured.unit());
    boolean any = lower.isPresent() || upper.isPresent();
    return any ? Optional.of(new Limits(lower, upper, Limits.BY_INSTRUCTOR)) : Optional.empty();
  }

  private static Optional<BigDecimal> limit(String typed, Unit unit) {
    return Optional.ofNullable(typed).map(t -> Reading.parse(t, unit)).map(
        // a limit typed in another unit is kept to seven digits, finer than any gauge here
        r -> r.unit() == unit ? r.value() : r.in(unit).round(MathContext.DECIMAL32));
  }

  private static String sentence(String message) {
    return Character.toUpperCase(message.charAt(0)) + message.substring(1) + ".";
  }

  private static Line found(Criterion criterion, Finding finding) {
    return new Line(criterion, Optional.of(finding), "", false);
  }

  /** Whether every criterion has a finding. */
  public boolean isComplete() {
    return lines.stream().allMatch(l -> l.finding().isPresent());
  }

  /** How many criteria still wait for one. */
  public long openCount() {
    return lines.stream().filter(l -> l.finding().isEmpty()).count();
  }

  /** The findings so far, in the task's order. */
  public List<Finding> findings() {
    return lines.stream().flatMap(l -> l.finding().stream()).toList();
  }
}

package ferrule.drill;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * The conditions of a drill as they were entered, right or not.
 *
 * @param opens the day on which it opens; empty for at once
 * @param opensTime from when on that day; empty for its beginning
 * @param due the day on which it is due
 * @param dueTime until when on that day; empty for its end
 * @param late whether late work is accepted
 * @param attempts how often it may be taken
 * @param counts which attempt counts: best or last
 * @param feedback when the verdicts are shown: each or end
 * @param limit the time limit in minutes; empty for none
 */
record ConditionsForm(
    String opens,
    String opensTime,
    String due,
    String dueTime,
    boolean late,
    String attempts,
    String counts,
    String feedback,
    String limit) {

  /** As it stands in a form that is opened. */
  static ConditionsForm of(Conditions c) {
    return new ConditionsForm(
        c.opens().map(o -> o.toLocalDate().toString()).orElse(""),
        c.opens().map(o -> o.toLocalTime().toString()).orElse(""),
        c.dueOn().toString(),
        c.dueTime().map(LocalTime::toString).orElse(""),
        c.lateWork(),
        String.valueOf(c.attempts()),
        c.counts() == Conditions.Counts.LAST ? "last" : "best",
        c.feedback() == Conditions.Feedback.END ? "end" : "each",
        c.limit().map(l -> String.valueOf(l.toMinutes())).orElse(""));
  }

  /** What is wrong with it, in sentences that say what was expected; empty if nothing is. */
  List<String> problems(LocalDateTime now) {
    List<String> problems = new ArrayList<>();
    if (date(due).isEmpty()) {
      problems.add("Give the day on which it is due, such as " + now.toLocalDate().plusDays(7) + ".");
    } else if (date(due).get().isBefore(now.toLocalDate())) {
      problems.add("The due date has passed. Choose today or a later day.");
    } else if (isDueTime() && dueAt().get().isBefore(now)) {
      problems.add("The time at which it is due has passed. Choose a later one.");
    }
    if (!dueTime.isEmpty() && time(dueTime).isEmpty()) {
      problems.add("Give the time at which it is due as hours and minutes, such as 22:00, or leave it empty.");
    }
    problems.addAll(opensProblems());
    if (number(attempts).isEmpty() || number(attempts).getAsInt() < 1
        || number(attempts).getAsInt() > Conditions.MOST_ATTEMPTS) {
      problems.add("Give how often it may be taken, as a number from 1 to " + Conditions.MOST_ATTEMPTS + ".");
    }
    if (!limit.isEmpty() && (number(limit).isEmpty() || number(limit).getAsInt() < 1
        || number(limit).getAsInt() > Conditions.LONGEST_LIMIT)) {
      problems.add(
          "Give the time limit in whole minutes, from 1 to " + Conditions.LONGEST_LIMIT
              + ", or leave it empty for none.");
    }
    return problems;
  }

  private List<String> opensProblems() {
    if (opens.isEmpty()) {
      return opensTime.isEmpty() ? List.of() : List.of("Give the day on which it opens beside the time, or neither.");
    }
    if (date(opens).isEmpty() || (!opensTime.isEmpty() && time(opensTime).isEmpty())) {
      return List.of("Give when it opens as a day and a time, such as 08:00, or leave both empty to open it at once.");
    }
    boolean tooLate = dueAt().filter(d -> !opensAt().orElseThrow().isBefore(d)).isPresent();
    return tooLate ? List.of("It would open after it is due. Choose an earlier opening or a later due date.") : List.of();
  }

  private boolean isDueTime() {
    return time(dueTime).isPresent();
  }

  /** The last moment at which it is on time, as entered; a date alone stands for its end. */
  private Optional<LocalDateTime> dueAt() {
    return date(due).map(d -> time(dueTime).map(d::atTime).orElseGet(() -> d.plusDays(1).atStartOfDay()));
  }

  private Optional<LocalDateTime> opensAt() {
    return date(opens).map(d -> d.atTime(time(opensTime).orElse(LocalTime.MIDNIGHT)));
  }

  private static Optional<LocalDate> date(String text) {
    try {
      return Optional.of(LocalDate.parse(text));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  private static Optional<LocalTime> time(String text) {
    try {
      return Optional.of(LocalTime.parse(text));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  private static OptionalInt number(String text) {
    try {
      return OptionalInt.of(Integer.parseInt(text));
    } catch (NumberFormatException e) {
      return OptionalInt.empty();
    }
  }

  /** The conditions that it makes; only where {@link #problems} finds none. */
  Conditions conditions() {
    return new Conditions(
        opensAt(),
        date(due).orElseThrow(),
        time(dueTime),
        late,
        number(attempts).orElseThrow(),
        counts.equals("last") ? Conditions.Counts.LAST : Conditions.Counts.BEST,
        feedback.equals("end") ? Conditions.Feedback.END : Conditions.Feedback.EACH,
        limit.isEmpty() ? Optional.empty() : Optional.of(Duration.ofMinutes(number(limit).orElseThrow())));
  }
}

package ferrule.drill;

import ferrule.people.Cohort;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * What was entered in the form that makes a drill, right or not, so that it can be shown again with what is wrong.
 *
 * @param questions what is asked
 * @param cohort as it was chosen
 * @param some whether only some of the cohort are to take it
 * @param people those who were picked, of any cohort
 * @param title as it was entered; empty for the proposed one
 * @param conditions when, how often and how long it can be taken
 */
record DrillForm(
    QuestionsForm questions,
    String cohort,
    boolean some,
    Set<UUID> people,
    String title,
    ConditionsForm conditions) {

  /** The form as it is opened: everything picked, for the latest cohort. */
  static DrillForm blank(ItemBank bank, List<Cohort> cohorts, LocalDate due) {
    return new DrillForm(
        QuestionsForm.blank(bank),
        cohorts.stream().findFirst().map(c -> c.id().toString()).orElse(""),
        false,
        Set.of(),
        "",
        ConditionsForm.of(Conditions.dueOn(due)));
  }

  /** The form as it is opened to change a drill. */
  static DrillForm of(Assignment a) {
    return new DrillForm(
        QuestionsForm.of(a.plan()),
        a.cohort().toString(),
        !a.chosen().isEmpty(),
        a.chosen(),
        a.title(),
        ConditionsForm.of(a.conditions()));
  }

  /** The form as it was sent: the fields by name. */
  static DrillForm of(Map<String, List<String>> fields) {
    return new DrillForm(
        QuestionsForm.of(fields),
        field(fields, "cohort"),
        field(fields, "who").equals("some"),
        fields.getOrDefault("person", List.of()).stream().flatMap(p -> uuid(p).stream()).collect(Collectors.toSet()),
        field(fields, "title"),
        new ConditionsForm(
            field(fields, "opens"),
            field(fields, "opens-time"),
            field(fields, "due"),
            field(fields, "due-time"),
            field(fields, "late").equals("yes"),
            field(fields, "attempts"),
            field(fields, "counts"),
            field(fields, "feedback"),
            field(fields, "limit")));
  }

  private static String field(Map<String, List<String>> fields, String name) {
    return fields.getOrDefault(name, List.of()).stream().findFirst().orElse("").strip();
  }

  /**
   * What is wrong with it beside its questions, in sentences that say what was expected; empty if it can be set.
   *
   * @param members the ids of those who are in each cohort
   * @param now the moment on the school's clock
   */
  List<String> problems(Map<UUID, Set<UUID>> members, LocalDateTime now) {
    List<String> problems = new ArrayList<>();
    if (cohortId().filter(members::containsKey).isEmpty()) {
      problems.add("Choose the cohort that is to take the drill.");
    } else if (some && chosen(members).isEmpty()) {
      problems.add("Pick at least one apprentice of the cohort, or set the drill for the whole cohort.");
    }
    problems.addAll(conditions.problems(now));
    if (title.length() > Assignment.LONGEST_TITLE) {
      problems.add(
          "A title has at most " + Assignment.LONGEST_TITLE + " characters; this one has " + title.length() + ".");
    }
    return problems;
  }

  /** Those of the cohort who are to take it; empty for all of it. */
  Set<UUID> chosen(Map<UUID, Set<UUID>> members) {
    if (!some) {
      return Set.of();
    }
    Set<UUID> chosen = new HashSet<>(people);
    chosen.retainAll(cohortId().map(members::get).orElse(Set.of()));
    return chosen;
  }

  /** The cohort that was chosen, if it is an id. */
  Optional<UUID> cohortId() {
    return uuid(cohort);
  }

  static Optional<UUID> uuid(String text) {
    try {
      return Optional.of(UUID.fromString(text));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }
}

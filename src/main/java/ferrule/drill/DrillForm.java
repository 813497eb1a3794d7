package ferrule.drill;

import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * What was entered in the form that makes a drill, right or not, so that it can be shown again with what is wrong.
 *
 * @param assemblies the assemblies that were picked
 * @param kinds the ways of asking that were picked
 * @param length as it was entered
 * @param cohort as it was chosen
 * @param some whether only some of the cohort are to take it
 * @param people those who were picked, of any cohort
 * @param title as it was entered; empty for the proposed one
 * @param conditions when, how often and how long it can be taken
 * @param colloquial whether colloquial terms count as right
 */
record DrillForm(
    List<ConceptId> assemblies,
    Set<ItemKind> kinds,
    String length,
    String cohort,
    boolean some,
    Set<UUID> people,
    String title,
    ConditionsForm conditions,
    boolean colloquial) {

  private static final int USUAL_LENGTH = 20;

  /** The form as it is opened: everything picked, for the latest cohort. */
  static DrillForm blank(ItemPool pool, List<Cohort> cohorts, LocalDate due) {
    return new DrillForm(
        pool.assemblies(),
        EnumSet.copyOf(ItemKind.usual()),
        String.valueOf(Math.max(1, Math.min(USUAL_LENGTH, pool.parts().size()))),
        cohorts.stream().findFirst().map(c -> c.id().toString()).orElse(""),
        false,
        Set.of(),
        "",
        ConditionsForm.of(Conditions.dueOn(due)),
        true);
  }

  /** The form as it is opened to change a drill. */
  static DrillForm of(Assignment a) {
    return new DrillForm(
        a.plan().assemblies(),
        a.plan().kinds(),
        String.valueOf(a.plan().length()),
        a.cohort().toString(),
        !a.chosen().isEmpty(),
        a.chosen(),
        a.title(),
        ConditionsForm.of(a.conditions()),
        a.plan().colloquial());
  }

  /** The form as it was sent: the fields by name. */
  static DrillForm of(Map<String, List<String>> fields) {
    List<ConceptId> assemblies =
        fields.getOrDefault("assembly", List.of()).stream().filter(ConceptId::isValid).map(ConceptId::of).toList();
    Set<ItemKind> kinds = EnumSet.noneOf(ItemKind.class);
    for (ItemKind kind : ItemKind.values()) {
      if (fields.getOrDefault("kind", List.of()).contains(kind.word())) {
        kinds.add(kind);
      }
    }
    return new DrillForm(
        assemblies,
        kinds,
        field(fields, "length"),
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
            field(fields, "limit")),
        field(fields, "colloquial").equals("yes"));
  }

  private static String field(Map<String, List<String>> fields, String name) {
    return fields.getOrDefault(name, List.of()).stream().findFirst().orElse("").strip();
  }

  /**
   * What is wrong with it, in sentences that say what was expected; empty if it can be set.
   *
   * @param members the ids of those who are in each cohort
   * @param now the moment on the school's clock
   */
  List<String> problems(ItemPool pool, Map<UUID, Set<UUID>> members, LocalDateTime now) {
    List<String> problems = new ArrayList<>(planProblems(pool));
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

  /** What is wrong with the part of the form that says what is asked. */
  List<String> planProblems(ItemPool pool) {
    List<String> problems = new ArrayList<>();
    int parts = known(pool).stream().mapToInt(pool::sizeOf).sum();
    if (parts == 0) {
      problems.add("Pick at least one assembly.");
    }
    if (kinds.isEmpty()) {
      problems.add("Pick at least one way of asking.");
    }
    if (lengthGiven().isEmpty() || lengthGiven().getAsInt() < 1 || lengthGiven().getAsInt() > Plan.LONGEST) {
      problems.add("Give how many parts to ask for, as a number from 1 to " + Plan.LONGEST + ".");
    } else if (parts > 0 && lengthGiven().getAsInt() > parts) {
      problems.add(
          "The drawing shows " + parts + (parts == 1 ? " part" : " parts") + " of what you picked, and each is asked "
              + "for once. Ask for at most " + parts + ", or pick more assemblies.");
    }
    return problems;
  }

  private List<ConceptId> known(ItemPool pool) {
    return pool.assemblies().stream().filter(assemblies::contains).toList();
  }

  private OptionalInt lengthGiven() {
    try {
      return OptionalInt.of(Integer.parseInt(length));
    } catch (NumberFormatException e) {
      return OptionalInt.empty();
    }
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

  /** The plan that it makes; only where {@link #planProblems} finds none. */
  Plan plan(ItemPool pool) {
    return Plan.ofAssemblies(known(pool), kinds, lengthGiven().orElseThrow(), colloquial);
  }

  /** Whether parts are to be named by typing; for the template. */
  public boolean asksToName() {
    return kinds.contains(ItemKind.NAME);
  }

  /** Whether parts are to be found by pointing; for the template. */
  public boolean asksToFind() {
    return kinds.contains(ItemKind.FIND);
  }
}

package ferrule.drill.paper;

import ferrule.drill.ItemBank;
import ferrule.drill.ItemKind;
import ferrule.drill.Plan;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;

/**
 * What was entered in the form that makes a worksheet, right or not, so that it can be shown again with what is wrong.
 *
 * @param drill the id of the drill that it is made from; empty if assemblies are picked
 * @param assemblies the assemblies that were picked
 * @param kinds the ways of asking that were picked
 * @param length how many items, as it was entered
 * @param versions how many versions, as it was entered
 * @param cohort as it was chosen
 * @param title as it was entered; empty for the proposed one
 * @param school the line above the title, as it was entered
 */
record PaperForm(
    String drill,
    List<ConceptId> assemblies,
    Set<ItemKind> kinds,
    String length,
    String versions,
    String cohort,
    String title,
    String school) {

  private static final int USUAL_LENGTH = 16;
  private static final int USUAL_VERSIONS = 2;

  /** The form as it is opened, for this drill if there is one. */
  static PaperForm blank(Optional<UUID> drill, Optional<UUID> cohort, String school) {
    return new PaperForm(
        drill.map(UUID::toString).orElse(""),
        List.of(),
        Set.of(ItemKind.NAME),
        String.valueOf(USUAL_LENGTH),
        String.valueOf(USUAL_VERSIONS),
        cohort.map(UUID::toString).orElse(""),
        "",
        school);
  }

  /** The form as it was sent: the fields by name. */
  static PaperForm of(Map<String, List<String>> fields) {
    Set<ItemKind> kinds = new LinkedHashSet<>();
    for (ItemKind kind : ItemKind.values()) {
      if (fields.getOrDefault("kind", List.of()).contains(kind.word())) {
        kinds.add(kind);
      }
    }
    return new PaperForm(
        field(fields, "drill"),
        fields.getOrDefault("assembly", List.of()).stream().filter(ConceptId::isValid).map(ConceptId::of).toList(),
        kinds,
        field(fields, "length"),
        field(fields, "versions"),
        field(fields, "cohort"),
        field(fields, "title"),
        field(fields, "school"));
  }

  private static String field(Map<String, List<String>> fields, String name) {
    return fields.getOrDefault(name, List.of()).stream().findFirst().orElse("").strip();
  }

  /** What is wrong with it, in sentences that say what was expected; empty if a worksheet can be made. */
  List<String> problems(ItemBank bank, List<Cohort> cohorts) {
    List<String> problems = new ArrayList<>();
    if (drill.isEmpty()) {
      planProblems(bank, problems);
      if (id(cohort).filter(id -> cohorts.stream().anyMatch(c -> c.id().equals(id))).isEmpty()) {
        problems.add("Choose the cohort that is to write it.");
      }
    }
    if (number(versions).isEmpty() || number(versions).getAsInt() < 1
        || number(versions).getAsInt() > Worksheet.MOST_VERSIONS) {
      problems.add("Give how many versions, as a number from 1 to " + Worksheet.MOST_VERSIONS + ".");
    }
    if (title.length() > Worksheet.LONGEST_TITLE || school.length() > Worksheet.LONGEST_TITLE) {
      problems.add("The title and the line above it have at most " + Worksheet.LONGEST_TITLE + " characters each.");
    }
    return problems;
  }

  private void planProblems(ItemBank bank, List<String> problems) {
    if (known(bank).isEmpty()) {
      problems.add("Pick at least one assembly.");
    }
    if (kinds.isEmpty()) {
      problems.add("Pick at least one way of asking.");
    }
    if (number(length).isEmpty() || number(length).getAsInt() < 1 || number(length).getAsInt() > Plan.LONGEST) {
      problems.add("Give how many parts to ask for, as a number from 1 to " + Plan.LONGEST + ".");
    }
  }

  private List<ConceptId> known(ItemBank bank) {
    return assemblies.stream().filter(bank.assemblies()::contains).toList();
  }

  private static OptionalInt number(String text) {
    return text.matches("\\d{1,4}") ? OptionalInt.of(Integer.parseInt(text)) : OptionalInt.empty();
  }

  static Optional<UUID> id(String text) {
    try {
      return Optional.of(UUID.fromString(text));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** How many versions; only where {@link #problems} finds none. */
  int versionCount() {
    return number(versions).orElseThrow();
  }

  /** The plan of a worksheet whose assemblies were picked; only where {@link #problems} finds none. */
  Plan plan(ItemBank bank) {
    return Plan.ofAssemblies(known(bank), kinds, number(length).orElseThrow(), true);
  }
}

package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * The part of the form that says what a drill asks, as it was entered, right or not.
 *
 * @param assemblies those that were picked
 * @param mix the word of a ready-made blueprint, {@link #BY_KIND} or {@link #BY_TABLE}
 * @param kinds the kinds that were picked, for {@link #BY_KIND}
 * @param rows the rows of the table, for {@link #BY_TABLE}
 * @param length as it was entered
 * @param colloquial whether everyday names count as right
 * @param failedFirst whether what an apprentice failed lately comes first
 */
record QuestionsForm(
    List<ConceptId> assemblies,
    String mix,
    Set<ItemKind> kinds,
    List<Row> rows,
    String length,
    boolean colloquial,
    boolean failedFirst) {

  /** The instructor picks kinds, and all have their share. */
  static final String BY_KIND = "kinds";

  /** The instructor says how many of which kind about which assembly. */
  static final String BY_TABLE = "table";

  private static final int USUAL_LENGTH = 20;
  private static final int SPARE_ROWS = 3;

  /**
   * A row of the table.
   *
   * @param count as it was entered
   * @param kind the word of the kind
   * @param assembly its id, or empty for any that is picked
   */
  record Row(String count, String kind, String assembly) {

    boolean isEmpty() {
      return count.isEmpty() || count.equals("0");
    }
  }

  /** The form as it is opened. */
  static QuestionsForm blank(ItemBank bank) {
    return new QuestionsForm(
        bank.assemblies(), Mix.NAMES_AND_PLACES.word(), EnumSet.copyOf(ItemKind.usual()), List.of(),
        String.valueOf(USUAL_LENGTH), true, false);
  }

  /** The form as it is opened to change what a drill asks. */
  static QuestionsForm of(Plan plan) {
    List<Row> rows =
        plan.blueprint().stream()
            .flatMap(b -> b.cells().stream())
            .map(c -> new Row("" + c.count(), c.kind().word(), c.assembly().map(ConceptId::value).orElse("")))
            .toList();
    return new QuestionsForm(
        plan.assemblies(), rows.isEmpty() ? BY_KIND : BY_TABLE, plan.kinds(), rows, String.valueOf(plan.length()),
        plan.colloquial(), plan.failedFirst());
  }

  /** The form as it was sent: the fields by name. */
  static QuestionsForm of(Map<String, List<String>> fields) {
    List<ConceptId> assemblies =
        fields.getOrDefault("assembly", List.of()).stream().filter(ConceptId::isValid).map(ConceptId::of).toList();
    Set<ItemKind> kinds = EnumSet.noneOf(ItemKind.class);
    fields.getOrDefault("kind", List.of()).forEach(k -> ItemKind.find(k).ifPresent(kinds::add));
    String mix = field(fields, "mix");
    return new QuestionsForm(
        assemblies,
        mix.isEmpty() ? BY_KIND : mix,
        kinds,
        rows(fields),
        field(fields, "length"),
        field(fields, "colloquial").equals("yes"),
        field(fields, "failed-first").equals("yes"));
  }

  private static List<Row> rows(Map<String, List<String>> fields) {
    List<String> counts = fields.getOrDefault("row-count", List.of());
    List<String> kinds = fields.getOrDefault("row-kind", List.of());
    List<String> assemblies = fields.getOrDefault("row-assembly", List.of());
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < counts.size() && i < kinds.size() && i < assemblies.size(); i++) {
      Row row = new Row(counts.get(i).strip(), kinds.get(i), assemblies.get(i));
      if (!row.isEmpty()) {
        rows.add(row);
      }
    }
    return rows;
  }

  private static String field(Map<String, List<String>> fields, String name) {
    return fields.getOrDefault(name, List.of()).stream().findFirst().orElse("").strip();
  }

  /** What is wrong with it, in sentences that say what was expected; empty if it makes a plan. */
  List<String> problems(ItemBank bank) {
    List<String> problems = new ArrayList<>();
    if (known(bank).isEmpty()) {
      problems.add("Pick at least one assembly.");
    }
    if (mix.equals(BY_KIND) && kinds.isEmpty()) {
      problems.add("Pick at least one way of asking.");
    }
    if (mix.equals(BY_TABLE)) {
      problems.addAll(tableProblems(bank));
    } else if (lengthGiven().isEmpty() || lengthGiven().getAsInt() < 1 || lengthGiven().getAsInt() > Plan.LONGEST) {
      problems.add("Give how many questions to ask, as a number from 1 to " + Plan.LONGEST + ".");
    }
    if (problems.isEmpty()) {
      shortage(bank).ifPresent(problems::add);
    }
    return problems;
  }

  private List<String> tableProblems(ItemBank bank) {
    if (rows.isEmpty()) {
      return List.of("Say in the table how many questions of which kind to ask.");
    }
    List<String> problems = new ArrayList<>();
    int sum = 0;
    for (Row row : rows) {
      Optional<Blueprint.Cell> cell = cell(row, bank);
      if (cell.isEmpty()) {
        problems.add("A row of the table needs a whole number of questions and a kind; given: “" + row.count() + "”.");
      }
      sum += cell.map(Blueprint.Cell::count).orElse(0);
    }
    if (sum > Plan.LONGEST) {
      problems.add("A drill has at most " + Plan.LONGEST + " questions; the table asks for " + sum + ".");
    }
    return problems;
  }

  private static Optional<Blueprint.Cell> cell(Row row, ItemBank bank) {
    Optional<ConceptId> assembly =
        Optional.of(row.assembly()).filter(ConceptId::isValid).map(ConceptId::of).filter(bank.assemblies()::contains);
    return row.count().matches("[1-9][0-9]?")
        ? ItemKind.find(row.kind()).map(k -> new Blueprint.Cell(assembly, k, Integer.parseInt(row.count())))
        : Optional.empty();
  }

  private Optional<String> shortage(ItemBank bank) {
    Optional<Plan> plan = made(bank);
    int there = plan.map(p -> new ItemDraw(bank, Chances.byStructure()).items(p, 0).size()).orElse(0);
    int asked = plan.map(Plan::length).orElse(1);
    return there >= asked
        ? Optional.empty()
        : Optional.of(
            "What you picked yields " + there + (there == 1 ? " question" : " questions") + ", for nothing is asked twice. "
                + "Ask for at most " + there + ", or pick more assemblies or kinds.");
  }

  private Optional<Plan> made(ItemBank bank) {
    List<ConceptId> picked = known(bank);
    if (mix.equals(BY_TABLE)) {
      Map<String, Blueprint.Cell> cells = new LinkedHashMap<>();
      for (Row row : rows) {
        Blueprint.Cell cell = cell(row, bank).orElseThrow();
        cells.merge(
            cell.kind() + "" + cell.assembly(), cell,
            (a, b) -> new Blueprint.Cell(a.assembly(), a.kind(), a.count() + b.count()));
      }
      return Optional.of(Plan.of(new Blueprint(List.copyOf(cells.values())), picked, colloquial));
    }
    int number = lengthGiven().orElseThrow();
    return mix.equals(BY_KIND)
        ? Optional.of(Plan.ofAssemblies(picked, kinds, number, colloquial))
        : Mix.find(mix)
            .flatMap(m -> m.blueprint(bank, picked, number))
            .map(blueprint -> Plan.of(blueprint, picked, colloquial));
  }

  /** The plan that it makes; only where {@link #problems} finds none. */
  Plan plan(ItemBank bank) {
    return made(bank).orElseThrow().withFailedFirst(failedFirst);
  }

  private List<ConceptId> known(ItemBank bank) {
    return bank.assemblies().stream().filter(assemblies::contains).toList();
  }

  private OptionalInt lengthGiven() {
    try {
      return OptionalInt.of(Integer.parseInt(length));
    } catch (NumberFormatException e) {
      return OptionalInt.empty();
    }
  }

  // -- for the template

  /** A choice of the form: a ready-made mix or a kind. */
  public record Choice(String word, String title, String hint, boolean chosen) {}

  /** An assembly to pick. */
  public record Assembly(String id, String term, int parts, boolean chosen) {}

  /** The ready-made mixes. */
  public List<Choice> mixes() {
    return Arrays.stream(Mix.values())
        .map(m -> new Choice(m.word(), m.title(), m.kinds(), m.word().equals(mix)))
        .toList();
  }

  /** The kinds of questions. */
  public List<Choice> kindChoices() {
    return Arrays.stream(ItemKind.values())
        .map(k -> new Choice(k.word(), k.title(), k.brief(), kinds.contains(k)))
        .toList();
  }

  /** The rows of the table, with some to spare. */
  public List<Row> tableRows() {
    List<Row> all = new ArrayList<>(rows);
    for (int i = 0; i < SPARE_ROWS; i++) {
      all.add(new Row("", "", ""));
    }
    return all;
  }

  /** Whether kinds are picked one by one. */
  public boolean isByKind() {
    return mix.equals(BY_KIND);
  }

  /** Whether the table says how many of which. */
  public boolean isByTable() {
    return mix.equals(BY_TABLE);
  }

  List<Assembly> assemblyChoices(ItemBank bank, PartNames names) {
    return bank.assemblies().stream()
        .map(
            a ->
                new Assembly(
                    a.value(), PartNames.capital(names.scope(a)), bank.topics(ItemKind.NAME, List.of(a)).size(), assemblies.contains(a)))
        .toList();
  }
}

package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Ready-made blueprints: which kinds of items, in which proportion. */
enum Mix {
  NAMES_AND_PLACES("Names and places", Map.of(ItemKind.NAME, 1, ItemKind.FIND, 1)),
  FIRST_MEETING(
      "First meeting: choose and point", Map.of(ItemKind.CHOOSE_NAME, 2, ItemKind.FIND, 2, ItemKind.LOOK_ALIKES, 1)),
  WHERE_IT_BELONGS(
      "How it all belongs together",
      Map.of(ItemKind.ASSEMBLY, 2, ItemKind.ODD_ONE_OUT, 2, ItemKind.BRACE, 1, ItemKind.AIR_PATH, 1)),
  TRADE_LANGUAGE(
      "Trade language",
      Map.of(ItemKind.NAME, 2, ItemKind.SECOND_TERM, 2, ItemKind.LOOK_ALIKES, 1, ItemKind.BRACE, 1)),
  WORK(
      "Work at the bench",
      Map.of(
          ItemKind.ORDER, 1, ItemKind.NEXT_STEP, 2, ItemKind.LEFT_OUT, 1, ItemKind.TOOL, 2, ItemKind.CAUTION, 2,
          ItemKind.READING, 1)),
  EVERYTHING("A bit of everything", everyKindOnce());

  private final String title;
  private final Map<ItemKind, Integer> weights;

  Mix(String title, Map<ItemKind, Integer> weights) {
    this.title = title;
    this.weights = new EnumMap<>(weights);
  }

  private static Map<ItemKind, Integer> everyKindOnce() {
    Map<ItemKind, Integer> all = new EnumMap<>(ItemKind.class);
    Arrays.stream(ItemKind.values()).forEach(k -> all.put(k, 1));
    return all;
  }

  String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  static Optional<Mix> find(String word) {
    return Arrays.stream(values()).filter(m -> m.word().equals(word)).findFirst();
  }

  String title() {
    return title;
  }

  /** The kinds in words, such as "naming, second terms". */
  String kinds() {
    return this == EVERYTHING
        ? "all kinds of questions"
        : String.join(", ", weights.keySet().stream().map(ItemKind::brief).toList());
  }

  /**
   * The blueprint of so many items: each kind that can be asked under these assemblies has its share, by the method of
   * largest remainders. Empty if none can.
   *
   * @param length at least 1
   */
  Optional<Blueprint> blueprint(ItemBank bank, List<ConceptId> assemblies, int length) {
    List<ItemKind> kinds = weights.keySet().stream().filter(k -> !bank.topics(k, assemblies).isEmpty()).toList();
    double sum = kinds.stream().mapToInt(weights::get).sum();
    Map<ItemKind, Integer> counts = new EnumMap<>(ItemKind.class);
    kinds.forEach(k -> counts.put(k, (int) (length * weights.get(k) / sum)));
    int left = length - counts.values().stream().mapToInt(n -> n).sum();
    kinds.stream()
        .sorted(Comparator.comparingDouble((ItemKind k) -> counts.get(k) - length * weights.get(k) / sum))
        .limit(left)
        .forEach(k -> counts.merge(k, 1, Integer::sum));
    List<Blueprint.Cell> cells = new ArrayList<>();
    counts.forEach((kind, count) -> {
      if (count > 0) {
        cells.add(new Blueprint.Cell(Optional.empty(), kind, count));
      }
    });
    return cells.isEmpty() ? Optional.empty() : Optional.of(new Blueprint(cells));
  }
}

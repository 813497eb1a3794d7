package ferrule.drill;

import ferrule.drill.item.Topic;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;

/**
 * Makes the blueprint of a plan that has none. Assemblies take turns, so that each has its share as long as there is
 * anything left to ask about it; in its turn an assembly gives an item of the kind that has had the fewest, and among
 * those of the kind that can ask about the fewest things. Which assembly begins is drawn by lot.
 */
final class Allocation {

  private final Map<ConceptId, Map<ItemKind, List<Topic>>> topics = new LinkedHashMap<>();
  private final Map<ItemKind, Integer> size = new EnumMap<>(ItemKind.class);
  private final Map<ConceptId, Integer> had = new LinkedHashMap<>();
  private final Map<ItemKind, Integer> hadOfKind = new EnumMap<>(ItemKind.class);
  private final Set<String> used = new HashSet<>();

  private Allocation(ItemBank bank, Plan plan, long seed) {
    List<ConceptId> homes = new ArrayList<>(plan.parts().isEmpty() ? plan.assemblies() : bank.assemblies());
    shuffle(homes, seed);
    for (ConceptId home : homes) {
      Map<ItemKind, List<Topic>> byKind = new EnumMap<>(ItemKind.class);
      for (ItemKind kind : plan.kinds()) {
        List<Topic> here = scope(bank, plan, kind, home);
        if (!here.isEmpty()) {
          byKind.put(kind, here);
          size.merge(kind, here.size(), Integer::sum);
        }
      }
      topics.put(home, byKind);
      had.put(home, 0);
    }
  }

  private static void shuffle(List<?> list, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = list.size() - 1; i > 0; i--) {
      Collections.swap(list, i, random.nextInt(i + 1));
    }
  }

  /** What a plan can ask in this way under this assembly; where it names its parts, only about those. */
  static List<Topic> scope(ItemBank bank, Plan plan, ItemKind kind, ConceptId home) {
    Set<ConceptId> parts = new HashSet<>(plan.parts());
    return bank.topics(kind, List.of(home)).stream()
        .filter(t -> parts.isEmpty() || kind.asksAboutPart() && parts.contains(t.key()))
        .toList();
  }

  /**
   * The plan's blueprint; empty if nothing can be asked. It asks for fewer items than the plan where there are no more.
   *
   * @param seed of the lot
   */
  static Optional<Blueprint> of(ItemBank bank, Plan plan, long seed) {
    return new Allocation(bank, plan, seed).allot(plan.length());
  }

  private Optional<Blueprint> allot(int length) {
    Map<ConceptId, Map<ItemKind, Integer>> counts = new LinkedHashMap<>();
    boolean more = true;
    for (int i = 0; i < length && more; i++) {
      more = false;
      for (ConceptId home : inTurn()) {
        Optional<ItemKind> kind = take(home);
        if (kind.isPresent()) {
          counts.computeIfAbsent(home, h -> new EnumMap<>(ItemKind.class)).merge(kind.get(), 1, Integer::sum);
          more = true;
          break;
        }
      }
    }
    List<Blueprint.Cell> cells = new ArrayList<>();
    counts.forEach(
        (home, kinds) ->
            kinds.forEach((kind, count) -> cells.add(new Blueprint.Cell(Optional.of(home), kind, count))));
    return cells.isEmpty() ? Optional.empty() : Optional.of(new Blueprint(cells));
  }

  private List<ConceptId> inTurn() {
    return topics.keySet().stream().sorted(Comparator.comparing(had::get)).toList();
  }

  private Optional<ItemKind> take(ConceptId home) {
    List<ItemKind> kinds =
        topics.get(home).keySet().stream()
            .sorted(
                Comparator.comparing((ItemKind k) -> hadOfKind.getOrDefault(k, 0)).thenComparing(k -> size.get(k)))
            .toList();
    for (ItemKind kind : kinds) {
      Optional<Topic> free = topics.get(home).get(kind).stream().filter(t -> !used.contains(t.once())).findFirst();
      if (free.isPresent()) {
        used.add(free.get().once());
        had.merge(home, 1, Integer::sum);
        hadOfKind.merge(kind, 1, Integer::sum);
        return Optional.of(kind);
      }
    }
    return Optional.empty();
  }
}

package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.random.RandomGenerator;
import java.util.SplittableRandom;

/**
 * Draws the items of one sitting from a pool.
 *
 * <p>The draw is stratified: assemblies take turns, in an order drawn by lot, so that each has its share as long as it
 * has parts left, and within an assembly parts are drawn without putting back. A part is asked for once in a sitting,
 * because one question about it would answer another. Ways of asking alternate, so that their numbers differ by one at
 * most. Time is linear in the number of parts in scope.
 *
 * <p>The same pool, plan and seed give the same items.
 */
public final class ItemDraw {

  private final ItemPool pool;

  /** A draw from this pool. */
  public ItemDraw(ItemPool pool) {
    this.pool = pool;
  }

  /**
   * The items of one sitting: as many as the plan asks for, or as many as there are parts in scope if they are fewer.
   *
   * @return the items in the order in which they are asked; empty if no part is in scope
   */
  public List<Item> items(Plan plan, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<Showing> chosen = inTurns(pool.inScope(plan), plan.length(), random);
    shuffle(chosen, random);
    List<ItemKind> kinds = new ArrayList<>(plan.kinds());
    shuffle(kinds, random);
    List<ItemKind> asked = new ArrayList<>();
    for (int i = 0; i < chosen.size(); i++) {
      asked.add(kinds.get(i % kinds.size()));
    }
    shuffle(asked, random);
    List<Item> items = new ArrayList<>();
    for (int i = 0; i < chosen.size(); i++) {
      Showing s = chosen.get(i);
      items.add(new Item(i + 1, asked.get(i), s.part(), s.view(), s.variants(), random.nextLong()));
    }
    return List.copyOf(items);
  }

  private static List<Showing> inTurns(List<Showing> scope, int length, RandomGenerator random) {
    Map<ConceptId, List<Showing>> byHome = new LinkedHashMap<>();
    scope.forEach(s -> byHome.computeIfAbsent(s.home(), h -> new ArrayList<>()).add(s));
    List<List<Showing>> strata = new ArrayList<>(byHome.values());
    shuffle(strata, random);
    strata.forEach(stratum -> shuffle(stratum, random));
    List<Showing> chosen = new ArrayList<>();
    for (int round = 0; chosen.size() < Math.min(length, scope.size()); round++) {
      for (List<Showing> stratum : strata) {
        if (round < stratum.size() && chosen.size() < length) {
          chosen.add(stratum.get(round));
        }
      }
    }
    return chosen;
  }

  private static void shuffle(List<?> list, RandomGenerator random) {
    for (int i = list.size() - 1; i > 0; i--) {
      Collections.swap(list, i, random.nextInt(i + 1));
    }
  }
}

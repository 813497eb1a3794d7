package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.item.Draft;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Topic;
import ferrule.drill.item.Writer;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

class ItemDrawTest {

  /** A pool with this many parts in each of its assemblies. */
  private static ItemPool pool(List<Integer> sizes) {
    List<Showing> showings = new ArrayList<>();
    for (int a = 0; a < sizes.size(); a++) {
      for (int p = 0; p < sizes.get(a); p++) {
        ConceptId part = ConceptId.of("part-" + a + "-" + p);
        showings.add(new Showing(part, ConceptId.of("assembly-" + a), "view-" + a, Set.of("student"), 500));
      }
    }
    return new ItemPool(showings);
  }

  /** Names and places of the parts of a pool, as a bank that holds nothing else. */
  private static ItemBank bank(ItemPool pool) {
    List<Topic> topics =
        pool.parts().stream()
            .map(part -> new Topic(part, part.value(), part.value(), Set.of(pool.find(part).orElseThrow().home()), 0))
            .toList();
    return ItemBank.of(
        pool,
        Map.of(
            ItemKind.NAME, writer(topics, true),
            ItemKind.FIND, writer(topics, false)));
  }

  private static Writer writer(List<Topic> topics, boolean named) {
    return new Writer() {
      @Override
      public List<Topic> topics() {
        return topics;
      }

      @Override
      public Optional<Draft> write(Topic topic, RandomGenerator random) {
        return Optional.of(
            named
                ? new Draft(topic.key(), Optional.of(topic.key()), new Interaction.TextEntry("", List.of()))
                : new Draft(topic.key(), Optional.empty(), new Interaction.Hotspot("")));
      }
    };
  }

  private static List<Item> items(ItemPool pool, Plan plan, long seed) {
    return new ItemDraw(bank(pool), Chances.byStructure()).items(plan, seed);
  }

  record Case(ItemPool pool, Plan plan, long seed) {}

  @Provide
  Arbitrary<Case> cases() {
    Arbitrary<List<Integer>> sizes = Arbitraries.integers().between(1, 15).list().ofMinSize(1).ofMaxSize(8);
    Arbitrary<Set<ItemKind>> kinds = Arbitraries.of(ItemKind.NAME, ItemKind.FIND).set().ofMinSize(1);
    Arbitrary<Integer> lengths = Arbitraries.integers().between(1, Plan.LONGEST);
    return Combinators.combine(sizes, kinds, lengths, Arbitraries.longs(), Arbitraries.integers().between(1, 8))
        .as(
            (s, k, length, seed, some) -> {
              ItemPool pool = pool(s);
              List<ConceptId> picked = pool.assemblies().stream().limit(some).toList();
              return new Case(pool, Plan.ofAssemblies(picked, k, length, true), seed);
            });
  }

  @Property
  void noPartIsAskedForTwiceAndEveryPartIsInScope(@ForAll("cases") Case c) {
    List<Item> items = items(c.pool, c.plan, c.seed);
    Set<ConceptId> asked = items.stream().map(Item::key).collect(Collectors.toSet());
    assertEquals(items.size(), asked.size());
    for (Item item : items) {
      Showing showing = c.pool.find(item.key()).orElseThrow();
      assertTrue(c.plan.assemblies().contains(showing.home()));
      assertEquals(showing.view(), item.view());
    }
  }

  @Property
  void thereAreAsManyItemsAsAskedForOrAsThereAreParts(@ForAll("cases") Case c) {
    int inScope = c.pool.inScope(c.plan).size();
    List<Item> items = items(c.pool, c.plan, c.seed);
    assertEquals(Math.min(c.plan.length(), inScope), items.size());
    assertEquals(
        IntStream.rangeClosed(1, items.size()).boxed().toList(), items.stream().map(Item::position).toList());
  }

  @Property
  void theSameSeedGivesTheSameItems(@ForAll("cases") Case c) {
    assertEquals(items(c.pool, c.plan, c.seed), items(c.pool, c.plan, c.seed));
  }

  @Property
  void waysOfAskingDifferInNumberByOneAtMost(@ForAll("cases") Case c) {
    List<Item> items = items(c.pool, c.plan, c.seed);
    Map<ItemKind, Long> counts = items.stream().collect(Collectors.groupingBy(Item::kind, Collectors.counting()));
    assertTrue(c.plan.kinds().containsAll(counts.keySet()));
    if (c.plan.kinds().size() == 2) {
      long name = counts.getOrDefault(ItemKind.NAME, 0L);
      long find = counts.getOrDefault(ItemKind.FIND, 0L);
      assertTrue(Math.abs(name - find) <= 1, name + " to name, " + find + " to find");
    }
  }

  @Property
  void noAssemblyIsPassedOverWhileAnotherIsAskedForTwiceMore(@ForAll("cases") Case c) {
    List<Item> items = items(c.pool, c.plan, c.seed);
    Map<ConceptId, Long> counts =
        items.stream()
            .collect(Collectors.groupingBy(i -> c.pool.find(i.key()).orElseThrow().home(), Collectors.counting()));
    long most = counts.values().stream().max(Long::compare).orElseThrow();
    for (ConceptId assembly : c.plan.assemblies()) {
      long asked = counts.getOrDefault(assembly, 0L);
      assertTrue(asked >= most - 1 || asked == c.pool.sizeOf(assembly), assembly + ": " + asked + " against " + most);
    }
  }

  @Example
  void anotherSeedGivesAnotherDrill() {
    ItemPool pool = pool(List.of(30, 30));
    Plan plan = Plan.ofAssemblies(pool.assemblies(), EnumSet.copyOf(ItemKind.usual()), 20, true);
    List<ConceptId> one = items(pool, plan, 1).stream().map(Item::key).toList();
    List<ConceptId> other = items(pool, plan, 2).stream().map(Item::key).toList();
    assertNotEquals(one, other);
  }

  @Example
  void aPlanOfSinglePartsAsksForThoseThatADrawingShows() {
    ItemPool pool = pool(List.of(3));
    ConceptId shown = ConceptId.of("part-0-1");
    Plan plan = Plan.ofParts(List.of(shown, ConceptId.of("inside-of-nothing")), Set.of(ItemKind.FIND), false);
    assertEquals(List.of(shown), items(pool, plan, 5).stream().map(Item::key).toList());
  }
}

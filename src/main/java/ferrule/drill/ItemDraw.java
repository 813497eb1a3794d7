package ferrule.drill;

import ferrule.drill.form.Candidate;
import ferrule.drill.form.Cell;
import ferrule.drill.form.Form;
import ferrule.drill.form.ParallelForms;
import ferrule.drill.item.Topic;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.random.RandomGenerator;
import java.util.stream.Collectors;

/**
 * Draws the items of one sitting from a bank.
 *
 * <p>A plan's blueprint says how many of which kind about which assembly; where it has none, {@link Allocation} makes
 * one. Of what fits a cell, {@link ParallelForms} chooses so that all sittings of one plan are equally hard. Nothing is
 * asked about twice in a sitting, because one question would answer the other. Then each item is written, and the order
 * is drawn by lot.
 *
 * <p>The same bank, plan, chances and seeds give the same items.
 */
public final class ItemDraw {

  private static final int TRIES = 5;

  private final ItemBank bank;
  private final Chances chances;

  /** A draw from this bank, in which items count as equally hard if they are by these chances. */
  ItemDraw(ItemBank bank, Chances chances) {
    this.bank = bank;
    this.chances = chances;
  }

  /** The items of one sitting that shares its blueprint with no other; see {@link #items(Plan, long, long, Set)}. */
  List<Item> items(Plan plan, long seed) {
    return items(plan, seed, seed, Set.of());
  }

  /**
   * The items of one sitting: as many as the plan asks for, or as many as can be asked if they are fewer.
   *
   * @param seed of this sitting
   * @param occasion what sittings that shall be equally hard have in common
   * @param failed the parts that this apprentice failed lately; they come first if the plan says so
   * @return the items in the order in which they are asked; empty if nothing is in scope
   */
  List<Item> items(Plan plan, long seed, long occasion, Set<ConceptId> failed) {
    return form(plan, seed, occasion, failed)
        .map(form -> written(plan, form, new SplittableRandom(seed)))
        .orElse(List.of());
  }

  private Optional<Form<ItemBank.Pick>> form(Plan plan, long seed, long occasion, Set<ConceptId> failed) {
    return blueprint(plan, occasion)
        .map(blueprint -> cells(plan, blueprint, plan.failedFirst() ? failed : Set.of()))
        .filter(cells -> !cells.isEmpty())
        .map(cells -> new ParallelForms<>(cells).form(0, seed));
  }

  /** The number of right answers to expect in a sitting, see {@link Chances}; 0 if nothing is in scope. */
  double expected(Plan plan, long seed, long occasion) {
    return form(plan, seed, occasion, Set.of()).map(Form::expected).orElse(0.0);
  }

  /** The blueprint that a plan follows on an occasion; empty if nothing is in scope. */
  Optional<Blueprint> blueprint(Plan plan, long occasion) {
    return plan.blueprint().or(() -> Allocation.of(bank, plan, occasion));
  }

  /**
   * What can stand in each cell of a blueprint; cells that nothing fits are left out. What was failed lately has cells
   * of its own, so that nothing is put in its place for the sake of equal difficulty.
   */
  List<Cell<ItemBank.Pick>> cells(Plan plan, Blueprint blueprint, Set<ConceptId> failed) {
    List<Cell<ItemBank.Pick>> cells = new ArrayList<>();
    Set<String> taken = new HashSet<>();
    for (Blueprint.Cell cell : blueprint.cells()) {
      Collection<Topic> all = topics(plan, cell);
      List<Topic> first =
          all.stream()
              .filter(t -> failed.contains(t.key()) && !taken.contains(t.once()))
              .limit(cell.count())
              .toList();
      first.forEach(t -> taken.add(t.once()));
      add(cell.kind(), first.size(), first, cells);
      add(cell.kind(), cell.count() - first.size(), all.stream().filter(t -> !failed.contains(t.key())).toList(), cells);
    }
    return cells;
  }

  private void add(ItemKind kind, int count, List<Topic> topics, List<Cell<ItemBank.Pick>> cells) {
    Map<ConceptId, Long> sizes = topics.stream().collect(Collectors.groupingBy(ItemDraw::home, Collectors.counting()));
    List<Candidate<ItemBank.Pick>> candidates = new ArrayList<>();
    for (Topic topic : topics) {
      // an assembly has its share, however many parts it has
      double share = 1.0 / sizes.get(home(topic));
      candidates.add(new Candidate<>(new ItemBank.Pick(kind, topic), topic.once(), chances.of(kind, topic), share));
    }
    if (count > 0 && !candidates.isEmpty()) {
      cells.add(new Cell<>(count, candidates));
    }
  }

  private static ConceptId home(Topic topic) {
    return topic.assemblies().stream().min(Comparator.naturalOrder()).orElseThrow();
  }

  private Collection<Topic> topics(Plan plan, Blueprint.Cell cell) {
    List<ConceptId> homes = cell.assembly().map(List::of).orElse(plan.assemblies());
    Set<Topic> found = new LinkedHashSet<>();
    homes.forEach(home -> found.addAll(Allocation.scope(bank, plan, cell.kind(), home)));
    return found;
  }

  private List<Item> written(Plan plan, Form<ItemBank.Pick> form, SplittableRandom random) {
    Set<String> used = new HashSet<>(form.items().stream().map(Candidate::once).toList());
    List<ItemBank.Pick> picks = new ArrayList<>(form.items().stream().map(Candidate::item).toList());
    shuffle(picks, random);
    List<Item> items = new ArrayList<>();
    for (ItemBank.Pick pick : picks) {
      write(pick, items.size() + 1, random)
          .or(() -> another(plan, pick, used, items.size() + 1, random))
          .ifPresent(items::add);
    }
    return List.copyOf(items);
  }

  private Optional<Item> write(ItemBank.Pick pick, int position, RandomGenerator random) {
    for (int i = 0; i < TRIES; i++) {
      Optional<Item> item = bank.write(pick.kind(), pick.topic(), position, random.nextLong());
      if (item.isPresent()) {
        return item;
      }
    }
    return Optional.empty();
  }

  /** An item of the same kind in the place of one that no lot would let be written. */
  private Optional<Item> another(
      Plan plan, ItemBank.Pick instead, Set<String> used, int position, RandomGenerator random) {
    List<Topic> others = new ArrayList<>();
    plan.assemblies().forEach(home -> others.addAll(Allocation.scope(bank, plan, instead.kind(), home)));
    shuffle(others, random);
    for (Topic topic : others) {
      if (used.add(topic.once())) {
        Optional<Item> item = write(new ItemBank.Pick(instead.kind(), topic), position, random);
        if (item.isPresent()) {
          return item;
        }
      }
    }
    return Optional.empty();
  }

  private static void shuffle(List<?> list, RandomGenerator random) {
    for (int i = list.size() - 1; i > 0; i--) {
      Collections.swap(list, i, random.nextInt(i + 1));
    }
  }
}

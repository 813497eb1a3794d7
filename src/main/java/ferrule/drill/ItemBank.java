package ferrule.drill;

import ferrule.drill.item.AirNext;
import ferrule.drill.item.AssemblyOfPart;
import ferrule.drill.item.BraceJoins;
import ferrule.drill.item.Draft;
import ferrule.drill.item.FindPart;
import ferrule.drill.item.Kinship;
import ferrule.drill.item.LookAlikes;
import ferrule.drill.item.NameAmongFour;
import ferrule.drill.item.NamePart;
import ferrule.drill.item.OddOneOut;
import ferrule.drill.item.Parts;
import ferrule.drill.item.ReadingWithin;
import ferrule.drill.item.SecondTerm;
import ferrule.drill.item.Tolerance;
import ferrule.drill.item.Topic;
import ferrule.drill.item.WorkQuestions;
import ferrule.drill.item.Writer;
import ferrule.glossary.ConceptId;
import ferrule.procedure.ProcedureBook;
import ferrule.procedure.ProcedureItem.Asks;
import java.util.Collection;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.Function;

/**
 * All items that can be written about an instrument: the topics of each kind, and the writers. The topics follow from the
 * curriculum alone and are gathered once; a class's mix-ups only change what distractors are drawn.
 */
public final class ItemBank {

  private final ItemPool pool;
  private final Optional<Kinship> kinship;
  private final Map<ItemKind, Writer> writers;
  private final Map<ItemKind, List<Topic>> topics;

  private ItemBank(
      ItemPool pool, Optional<Kinship> kinship, Map<ItemKind, Writer> writers, Map<ItemKind, List<Topic>> topics) {
    this.pool = pool;
    this.kinship = kinship;
    this.writers = writers;
    this.topics = topics;
  }

  /** A bank of what these writers write; {@code pool} says how each part is shown. */
  static ItemBank of(ItemPool pool, Map<ItemKind, Writer> writers) {
    return of(pool, Optional.empty(), writers);
  }

  private static ItemBank of(ItemPool pool, Optional<Kinship> kinship, Map<ItemKind, Writer> writers) {
    Map<ItemKind, List<Topic>> topics = new EnumMap<>(ItemKind.class);
    writers.forEach((kind, writer) -> topics.put(kind, writer.topics()));
    return new ItemBank(pool, kinship, writers, topics);
  }

  /**
   * A bank.
   *
   * @param pool how each part is shown
   * @param parts the same parts, as the writers see them
   * @param work how work is done on the instrument; none if there is no procedure
   * @param tolerances what is measured at the bench
   */
  static ItemBank of(ItemPool pool, Parts parts, Optional<ProcedureBook> work, List<Tolerance> tolerances) {
    Kinship kinship = new Kinship(parts);
    Map<ItemKind, Writer> writers = aboutParts(parts, kinship);
    Function<ConceptId, Optional<ConceptId>> home = new PartNames(parts.glossary())::home;
    ConceptId instrument =
        parts.glossary().assemblies().stream()
            .filter(a -> a.partOf().isEmpty())
            .findFirst()
            .map(a -> a.id())
            .orElseThrow(() -> new IllegalArgumentException("the glossary has no whole"));
    work.ifPresent(
        book -> {
          writers.put(ItemKind.ORDER, new WorkQuestions(book, Optional.empty(), home, instrument));
          writers.put(ItemKind.NEXT_STEP, new WorkQuestions(book, Optional.of(Asks.NEXT_STEP), home, instrument));
          writers.put(ItemKind.LEFT_OUT, new WorkQuestions(book, Optional.of(Asks.STEP_LEFT_OUT), home, instrument));
          writers.put(ItemKind.TOOL, new WorkQuestions(book, Optional.of(Asks.TOOL), home, instrument));
          writers.put(ItemKind.CAUTION, new WorkQuestions(book, Optional.of(Asks.CAUTION), home, instrument));
        });
    writers.put(ItemKind.READING, new ReadingWithin(tolerances, home, instrument));
    return of(pool, Optional.of(kinship), writers);
  }

  private static Map<ItemKind, Writer> aboutParts(Parts parts, Kinship kinship) {
    Map<ItemKind, Writer> writers = new EnumMap<>(ItemKind.class);
    writers.put(ItemKind.NAME, new NamePart(parts, kinship));
    writers.put(ItemKind.FIND, new FindPart(parts, kinship));
    writers.put(ItemKind.CHOOSE_NAME, new NameAmongFour(parts, kinship));
    writers.put(ItemKind.LOOK_ALIKES, new LookAlikes(parts, kinship));
    writers.put(ItemKind.ASSEMBLY, new AssemblyOfPart(parts, kinship));
    writers.put(ItemKind.ODD_ONE_OUT, new OddOneOut(parts, kinship));
    writers.put(ItemKind.BRACE, new BraceJoins(parts, kinship));
    writers.put(ItemKind.AIR_PATH, new AirNext(parts));
    writers.put(ItemKind.SECOND_TERM, new SecondTerm(parts, kinship));
    return writers;
  }

  /**
   * The same bank for a class that mixes parts up.
   *
   * @param mixedUp how often it took one part for another
   */
  ItemBank among(Map<ConceptId, Map<ConceptId, Integer>> mixedUp) {
    if (mixedUp.isEmpty() || kinship.isEmpty()) {
      return this;
    }
    Kinship theirs = kinship.get().among(mixedUp);
    Map<ItemKind, Writer> more = new EnumMap<>(writers);
    more.putAll(aboutParts(theirs.parts(), theirs));
    return new ItemBank(pool, Optional.of(theirs), more, topics);
  }

  /** The kinds of which anything can be asked. */
  public List<ItemKind> kinds() {
    return topics.keySet().stream().filter(k -> !topics.get(k).isEmpty()).toList();
  }

  /** What can be asked in this way. */
  List<Topic> topics(ItemKind kind) {
    return topics.getOrDefault(kind, List.of());
  }

  /** What can be asked in this way under one of these assemblies. */
  List<Topic> topics(ItemKind kind, Collection<ConceptId> assemblies) {
    return topics(kind).stream().filter(t -> t.assemblies().stream().anyMatch(assemblies::contains)).toList();
  }

  /** The assemblies under which anything can be asked: those of the parts first, in the order of the glossary. */
  public List<ConceptId> assemblies() {
    Set<ConceptId> found = new LinkedHashSet<>(pool.assemblies());
    topics.values().forEach(list -> list.forEach(t -> found.addAll(t.assemblies())));
    return List.copyOf(found);
  }

  /**
   * An item about a topic; empty if this seed yields none.
   *
   * @param position its place in the drill, from 1
   */
  Optional<Item> write(ItemKind kind, Topic topic, int position, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    return writers.get(kind).write(topic, random).map(draft -> item(kind, draft, position, random.nextLong()));
  }

  private Item item(ItemKind kind, Draft draft, int position, long pictureSeed) {
    Optional<ConceptId> drawn = kind.isPointed() ? Optional.of(draft.key()) : draft.lit();
    Optional<Showing> showing = drawn.flatMap(pool::find);
    return new Item(
        position,
        kind,
        draft.key(),
        showing.map(Showing::view).orElse(""),
        showing.map(Showing::variants).orElse(Set.of()),
        pictureSeed,
        showing.isPresent() ? draft.lit() : Optional.empty(),
        draft.interaction());
  }

  /** A way of asking and what is asked about. */
  record Pick(ItemKind kind, Topic topic) {}
}

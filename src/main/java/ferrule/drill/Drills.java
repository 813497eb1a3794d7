package ferrule.drill;

import ferrule.drawing.Studio;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.Person;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.function.Function;
import java.util.function.LongSupplier;
import java.util.function.Supplier;

/** Starting a drill and answering it: the rules of a sitting, over the store. */
public final class Drills {

  private final DrillStore store;
  private final Pictures pictures;
  private final Supplier<ItemBank> bank;
  private final Function<Boolean, Marker> marker;
  private final String edition;
  private final Clock clock;
  private final LongSupplier seeds;

  /**
   * Drills on the parts of an instrument, for those who take them elsewhere than on the pages.
   *
   * @param work what can be asked about bench work
   * @param edition the edition of the curriculum that glossary and drawing come from
   * @param seeds gives each sitting its seed
   */
  public static Drills of(
      DrillStore store,
      Glossary glossary,
      Studio studio,
      Work work,
      String edition,
      Clock clock,
      LongSupplier seeds) {
    Marker marker = new Marker(glossary);
    Pictures pictures = new Pictures(studio, glossary);
    CompletableFuture<ItemBank> bank = CompletableFuture.supplyAsync(() -> pictures.bank(work));
    return new Drills(store, pictures, bank::join, anew -> marker, edition, clock, seeds);
  }

  /**
   * Drills over this store.
   *
   * @param bank gives the bank that items are drawn from
   * @param marker gives the marker that judges by the rulings: of this moment if it is to be made anew, else it may be by
   *     those of the last time
   * @param edition the edition of the curriculum that items are drawn from
   * @param seeds gives each sitting its seed
   */
  Drills(
      DrillStore store,
      Pictures pictures,
      Supplier<ItemBank> bank,
      Function<Boolean, Marker> marker,
      String edition,
      Clock clock,
      LongSupplier seeds) {
    this.store = store;
    this.pictures = pictures;
    this.bank = bank;
    this.marker = marker;
    this.edition = edition;
    this.clock = clock;
    this.seeds = seeds;
  }

  /**
   * Starts an assignment for the first time, or goes on with that attempt.
   *
   * @return empty if the assignment was withdrawn or no drawing shows any of its parts any more
   */
  public Optional<Sitting> start(Person apprentice, Assignment assignment) {
    return start(apprentice, assignment, 1);
  }

  /** Starts an attempt at an assignment, or goes on with it where this person has started it; as above. */
  Optional<Sitting> start(Person apprentice, Assignment assignment, int attempt) {
    return open(apprentice, Optional.of(assignment.id()), attempt, assignment.title(), assignment.plan());
  }

  /** A plan of so many questions of a ready-made mix; empty if none of them can be asked about these assemblies. */
  Optional<Plan> planOf(Mix mix, List<ConceptId> assemblies, int length) {
    return mix.blueprint(bank.get(), assemblies, length).map(blueprint -> Plan.of(blueprint, assemblies, true));
  }

  /** Starts a self-test; empty if no drawing shows any of its parts. */
  Optional<Sitting> selfTest(Person apprentice, String title, Plan plan) {
    return open(apprentice, Optional.empty(), 1, title, plan);
  }

  private Optional<Sitting> open(
      Person apprentice, Optional<UUID> assignment, int attempt, String title, Plan plan) {
    long seed = seeds.getAsLong();
    return open(apprentice, assignment, attempt, title, plan, seed, items(apprentice, assignment, plan, seed));
  }

  private Optional<Sitting> open(
      Person apprentice,
      Optional<UUID> assignment,
      int attempt,
      String title,
      Plan plan,
      long seed,
      List<Item> items) {
    if (items.isEmpty()) {
      return Optional.empty();
    }
    return store.open(
        new Sitting(
            UUID.randomUUID(), apprentice.id(), assignment, attempt, title, plan, seed, edition, clock.instant(),
            items));
  }

  /**
   * The items of a paper that all who write it have in common.
   *
   * @param assignment the drill that it is made from, whose class's mix-ups are drawn as distractors
   * @return empty if nothing is in scope
   */
  public List<Item> itemsInCommon(Optional<UUID> assignment, Plan plan, long seed) {
    Map<ConceptId, Map<ConceptId, Integer>> mixedUp = assignment.map(store::mixedUpInClassOf).orElse(Map.of());
    Chances chances = Chances.of(store.known().knowledge(List.of()), List.of());
    long occasion = assignment.map(UUID::getLeastSignificantBits).orElse(seed);
    return new ItemDraw(bank.get().among(mixedUp), chances).items(plan, seed, occasion, Set.of());
  }

  /** The ways of asking of which anything can be asked, and the assemblies under which; waits for the survey. */
  public ItemBank bank() {
    return bank.get();
  }

  /** Everybody's sitting of one assignment is equally hard; a self-test follows a blueprint of its own. */
  private List<Item> items(Person apprentice, Optional<UUID> assignment, Plan plan, long seed) {
    Map<ConceptId, Map<ConceptId, Integer>> mixedUp =
        assignment.map(store::mixedUpInClassOf).orElseGet(() -> store.mixedUpBy(apprentice.id()));
    Set<ConceptId> failed = plan.failedFirst() ? store.failedLately(apprentice.id()) : Set.of();
    Chances chances = Chances.of(store.known().knowledge(List.of()), List.of());
    long occasion = assignment.map(UUID::getLeastSignificantBits).orElse(seed);
    return new ItemDraw(bank.get().among(mixedUp), chances).items(plan, seed, occasion, failed);
  }

  /** Starts a self-test with the questions of a sitting that were not answered right; empty if there are none. */
  Optional<Sitting> again(Person apprentice, Sitting sitting) {
    List<Item> failed =
        store.responses(sitting.id()).stream().filter(r -> !r.now().isRight()).map(Response::item).toList();
    if (failed.isEmpty()) {
      return Optional.empty();
    }
    List<Item> items = new ArrayList<>();
    failed.forEach(item -> items.add(item.at(items.size() + 1, seeds.getAsLong())));
    Set<ItemKind> kinds = new LinkedHashSet<>(failed.stream().map(Item::kind).toList());
    List<ConceptId> parts = failed.stream().map(Item::key).toList();
    Plan plan = new Plan(List.of(), parts, kinds, items.size(), sitting.plan().colloquial());
    return open(apprentice, Optional.empty(), 1, "Once more: what was not right", plan, seeds.getAsLong(), items);
  }

  /** Starts a self-test on these parts; empty if there are none that a drawing shows. */
  Optional<Sitting> practise(Person apprentice, List<ConceptId> parts, Set<ItemKind> kinds, boolean colloquial) {
    return parts.isEmpty()
        ? Optional.empty()
        : selfTest(apprentice, "Parts to practise", Plan.ofParts(parts, kinds, colloquial));
  }

  /** Judges and keeps an answer; where the item is answered already, the first answer is returned and nothing kept. */
  public Response answer(Sitting sitting, Item item, Answer answer) {
    return answer(sitting, item, answer, UUID.randomUUID());
  }

  /**
   * Judges and keeps an answer under an id that its sender gives; where the item is answered already, the first answer is
   * returned and nothing kept. So an answer that is sent twice counts once, and its sender sees by the id whether it is
   * theirs that counts.
   */
  Response answer(Sitting sitting, Item item, Answer answer, UUID id) {
    Instant at = clock.instant();
    return store.answer(
        id,
        sitting,
        item,
        answer,
        Marker.phrase(answer),
        anew -> marker
            .apply(anew || Marker.phrase(answer).isEmpty())
            .judge(item, answer, at, pictures.sight(item), sitting.plan().colloquial()),
        at);
  }

  /** The first item that is not answered; empty if all are. */
  Optional<Item> next(Sitting sitting) {
    Set<Integer> answered = store.answered(sitting.id());
    return sitting.items().stream().filter(i -> !answered.contains(i.position())).findFirst();
  }
}

package ferrule.drill;

import ferrule.drawing.Studio;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.Person;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** Starting a drill and answering it: the rules of a sitting, over the store. */
public final class Drills {

  private final DrillStore store;
  private final Pictures pictures;
  private final Supplier<Marker> marker;
  private final String edition;
  private final Clock clock;
  private final LongSupplier seeds;

  /**
   * Drills on the parts of an instrument, for those who take them elsewhere than on the pages.
   *
   * @param edition the edition of the curriculum that glossary and drawing come from
   * @param seeds gives each sitting its seed
   */
  public static Drills of(
      DrillStore store,
      Glossary glossary,
      Studio studio,
      String edition,
      Clock clock,
      LongSupplier seeds) {
    Marker marker = new Marker(glossary);
    return new Drills(store, new Pictures(studio, glossary), () -> marker, edition, clock, seeds);
  }

  /**
   * Drills over this store.
   *
   * @param marker gives the marker that judges by the rulings of the moment
   * @param edition the edition of the curriculum that items are drawn from
   * @param seeds gives each sitting its seed
   */
  Drills(
      DrillStore store,
      Pictures pictures,
      Supplier<Marker> marker,
      String edition,
      Clock clock,
      LongSupplier seeds) {
    this.store = store;
    this.pictures = pictures;
    this.marker = marker;
    this.edition = edition;
    this.clock = clock;
    this.seeds = seeds;
  }

  /**
   * Starts an assignment, or goes on with it where this person has started it.
   *
   * @return empty if the assignment was withdrawn or no drawing shows any of its parts any more
   */
  public Optional<Sitting> start(Person apprentice, Assignment assignment) {
    return open(apprentice, Optional.of(assignment.id()), assignment.title(), assignment.plan());
  }

  /** Starts a self-test; empty if no drawing shows any of its parts. */
  Optional<Sitting> selfTest(Person apprentice, String title, Plan plan) {
    return open(apprentice, Optional.empty(), title, plan);
  }

  private Optional<Sitting> open(Person apprentice, Optional<UUID> assignment, String title, Plan plan) {
    long seed = seeds.getAsLong();
    List<Item> items = new ItemDraw(pictures.pool()).items(plan, seed);
    if (items.isEmpty()) {
      return Optional.empty();
    }
    return store.open(
        new Sitting(
            UUID.randomUUID(), apprentice.id(), assignment, 1, title, plan, seed, edition, clock.instant(), items));
  }

  /** Starts a self-test on the parts of a sitting that were not answered right; empty if there are none. */
  Optional<Sitting> again(Person apprentice, Sitting sitting) {
    List<ConceptId> parts =
        store.responses(sitting.id()).stream()
            .filter(r -> !r.now().isRight())
            .map(r -> r.item().key())
            .toList();
    return practise(apprentice, parts, sitting.plan().kinds(), sitting.plan().colloquial());
  }

  /** Starts a self-test on these parts; empty if there are none that a drawing shows. */
  Optional<Sitting> practise(Person apprentice, List<ConceptId> parts, Set<ItemKind> kinds, boolean colloquial) {
    return parts.isEmpty()
        ? Optional.empty()
        : selfTest(apprentice, "Parts to practise", Plan.ofParts(parts, kinds, colloquial));
  }

  /** Judges and keeps an answer; where the item is answered already, the first answer is returned and nothing kept. */
  public Response answer(Sitting sitting, Item item, Answer answer) {
    return store
        .response(sitting.id(), item.position())
        .orElseGet(
            () ->
                store.answer(
                    sitting.id(),
                    item,
                    answer,
                    Marker.phrase(answer),
                    marker.get().mark(item, answer, pictures.sight(item), sitting.plan().colloquial()),
                    clock.instant()));
  }

  /** The first item that is not answered; empty if all are. */
  Optional<Item> next(Sitting sitting) {
    Set<Integer> answered =
        store.responses(sitting.id()).stream()
            .map(r -> r.item().position())
            .collect(Collectors.toSet());
    return sitting.items().stream().filter(i -> !answered.contains(i.position())).findFirst();
  }
}

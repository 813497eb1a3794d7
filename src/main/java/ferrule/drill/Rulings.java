package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.glossary.Concept;
import ferrule.glossary.Glossary;
import ferrule.naming.Reading;
import ferrule.people.Person;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * Rulings on typed answers and what they change: how the next answer is judged, and what past answers count.
 *
 * <p>The rulings that stand are read from the store for each answer, so that a ruling made at another node holds here at
 * once; the reader over them is made anew only when they have changed.
 */
final class Rulings {

  private static final Set<Reading.Obstacle> NOT_A_NAME =
      Set.of(Reading.Obstacle.NOTHING_SAID, Reading.Obstacle.DENIED, Reading.Obstacle.TOO_LONG);

  private final Glossary glossary;
  private final Curriculum curriculum;
  private final RulingStore store;
  private final Pictures pictures;
  private final Clock clock;
  private volatile Current current;

  /** What holds while these rulings stand. */
  private record Current(List<RuledAnswer> standing, RuledNames names, Marker marker) {}

  Rulings(Glossary glossary, Curriculum curriculum, RulingStore store, Pictures pictures, Clock clock) {
    this.glossary = glossary;
    this.curriculum = curriculum;
    this.store = store;
    this.pictures = pictures;
    this.clock = clock;
    this.current = over(List.of());
  }

  private Current over(List<RuledAnswer> standing) {
    RuledNames names = RuledNames.of(glossary, standing);
    return new Current(standing, names, new Marker(glossary, names.reader(), standing));
  }

  private Current current() {
    List<RuledAnswer> standing = store.standing();
    Current known = current;
    if (!known.standing().equals(standing)) {
      known = over(standing);
      current = known;
    }
    return known;
  }

  /** Judges by the names and rulings of this moment. */
  Marker marker() {
    return current().marker();
  }

  /** The phrases that await a ruling; what says that its writer does not know the name does not. */
  List<OpenAnswer> open() {
    RuledNames names = current().names();
    return store.open().stream()
        .filter(o -> glossary.find(o.part()).filter(Concept::isNameable).isPresent())
        .filter(o -> o.disputed() > 0 || !NOT_A_NAME.contains(names.reader().read(o.phrase()).obstacle()))
        .toList();
  }

  /** Why this decision cannot be taken, in a sentence for the instructor; empty if it can. */
  Optional<String> conflict(OpenAnswer open, Decision decision) {
    if (!decision.teaches()) {
      return Optional.empty();
    }
    Current now = current();
    List<RuledAnswer> then = new ArrayList<>(now.standing());
    then.add(ruling(open, decision, "", new UUID(0, 0)));
    return now.names().conflict(open.part(), open.phrase(), RuledNames.of(glossary, then));
  }

  private RuledAnswer ruling(OpenAnswer open, Decision decision, String reason, UUID by) {
    return new RuledAnswer(
        UUID.randomUUID(),
        glossary.id(),
        curriculum.edition(),
        open.part(),
        open.typed().get(0),
        open.phrase(),
        decision,
        reason,
        by,
        clock.instant(),
        Optional.empty());
  }

  /** Rules and regrades; returns how many answers count otherwise now. Ask {@link #conflict} first. */
  int rule(OpenAnswer open, Decision decision, String reason, Person by) {
    RuledAnswer ruling = ruling(open, decision, reason, by.id());
    List<RuledAnswer> then = new ArrayList<>(current().standing());
    then.add(ruling);
    Marker marker = over(then).marker();
    return store.rule(ruling, (response, plan) -> again(marker, response, plan));
  }

  /** Takes a ruling back and regrades; returns how many answers count otherwise now, empty if it was taken back before. */
  Optional<Integer> undo(RuledAnswer ruling, Person by) {
    List<RuledAnswer> then = current().standing().stream().filter(r -> !r.id().equals(ruling.id())).toList();
    Marker marker = over(then).marker();
    return store.undo(ruling, by.id(), clock.instant(), (response, plan) -> again(marker, response, plan));
  }

  private Outcome again(Marker marker, Response response, Plan plan) {
    boolean known = glossary.find(response.item().key()).filter(Concept::isNameable).isPresent();
    return known ? marker.again(response, pictures.sight(response.item()), plan.colloquial()) : response.now();
  }

  /** The rulings that teach a name, as a patch for the glossary's file; empty if there are none. */
  String patch() {
    String path = glossary.id() + "/glossary.yaml";
    return GlossaryPatch.of(
        "curriculum/" + path,
        curriculum.text(path).orElseThrow(),
        current().standing().stream().filter(r -> r.decision().teaches()).toList());
  }
}

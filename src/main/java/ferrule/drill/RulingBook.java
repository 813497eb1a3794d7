package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.naming.GlossaryPatch;
import ferrule.naming.Reading;
import ferrule.naming.Ruling;
import ferrule.naming.Rulings;
import ferrule.naming.TermReader;
import ferrule.people.Person;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * The rulings on record and what they change: how the next answer is judged, and what past answers count.
 *
 * <p>The rulings that stand are read from the store for each answer, so that a ruling made at another node holds here
 * at once; the reader over them is made anew only when they have changed.
 */
final class RulingBook {

  private static final Set<Reading.Obstacle> NOT_A_NAME =
      Set.of(Reading.Obstacle.NOTHING_SAID, Reading.Obstacle.DENIED, Reading.Obstacle.TOO_LONG);

  private final Glossary glossary;
  private final Curriculum curriculum;
  private final RulingStore store;
  private final Pictures pictures;
  private final Clock clock;
  private volatile Current current;

  /** What holds while these rulings stand. */
  private record Current(List<RuledAnswer> standing, Rulings rulings, Marker marker) {}

  RulingBook(Glossary glossary, Curriculum curriculum, RulingStore store, Pictures pictures, Clock clock) {
    this.glossary = glossary;
    this.curriculum = curriculum;
    this.store = store;
    this.pictures = pictures;
    this.clock = clock;
    this.current = over(List.of());
  }

  private Current over(List<RuledAnswer> standing) {
    // a part that this edition does not have any more cannot be ruled on
    List<RuledAnswer> known =
        standing.stream().filter(r -> isNameable(r.ruling().part())).toList();
    Rulings rulings = Rulings.of(glossary, known.stream().map(RuledAnswer::ruling).toList());
    return new Current(standing, rulings, new Marker(glossary, rulings, known));
  }

  private boolean isNameable(ConceptId part) {
    return glossary.find(part).filter(Concept::isNameable).isPresent();
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
    TermReader reader = current().rulings().reader();
    return store.open().stream()
        .filter(o -> isNameable(o.part()))
        .filter(o -> o.disputed() > 0 || !NOT_A_NAME.contains(reader.read(o.phrase()).obstacle()))
        .toList();
  }

  /** Why a ruling cannot be made, in a sentence for the instructor; empty if it can. */
  Optional<String> conflict(Ruling ruling) {
    Rulings now = current().rulings();
    Optional<String> ambiguous = now.conflictOf(ruling).map(Rulings.Conflict::sentence);
    return ambiguous.isPresent() || !RulingWord.of(ruling.decision()).teaches()
        ? ambiguous
        : harm(now.reader(), now.with(ruling).reader(), ruling);
  }

  /** A word that a ruling adds can make another part's name fit that part too: "bow" for a crook and "bow brace". */
  private Optional<String> harm(TermReader before, TermReader after, Ruling ruling) {
    return glossary.nameable().stream()
        .filter(c -> !c.id().equals(ruling.part()) && picksOut(before, c) && !picksOut(after, c))
        .findFirst()
        .map(
            c ->
                "With that name for the " + glossary.get(ruling.part()).term() + ", “" + c.term()
                    + "” would not be read as one part any more.");
  }

  private static boolean picksOut(TermReader reader, Concept c) {
    List<Concept> read = reader.read(c.term()).parts();
    return read.size() == 1 && read.get(0).id().equals(c.id());
  }

  /** Rules on an answer and regrades; returns how many answers count otherwise now. Ask {@link #conflict} first. */
  int rule(OpenAnswer open, Ruling.Decision decision, Person by) {
    RuledAnswer ruled =
        new RuledAnswer(
            UUID.randomUUID(),
            glossary.id(),
            curriculum.edition(),
            open.typed().get(0),
            new Ruling(open.phrase(), open.part(), decision),
            by.id(),
            now(),
            Optional.empty());
    List<RuledAnswer> then = new ArrayList<>(current().standing());
    then.add(ruled);
    Marker marker = over(then).marker();
    return store.rule(ruled, (response, plan) -> again(marker, response, plan));
  }

  /**
   * Takes a ruling back and regrades.
   *
   * @return how many answers count otherwise now; empty if it was taken back before
   */
  Optional<Integer> undo(RuledAnswer ruled, Person by) {
    List<RuledAnswer> then = current().standing().stream().filter(r -> !r.id().equals(ruled.id())).toList();
    Marker marker = over(then).marker();
    return store.undo(ruled, by.id(), now(), (response, plan) -> again(marker, response, plan));
  }

  // to the millisecond, as the log tells times
  private Instant now() {
    return clock.instant().truncatedTo(ChronoUnit.MILLIS);
  }

  private Outcome again(Marker marker, Response response, Plan plan) {
    return isNameable(response.item().key())
        ? marker.again(response, pictures.sight(response.item()), plan.colloquial())
        : response.now();
  }

  /** The rulings that the glossary's file has not taken up yet, as a patch for it; empty if there are none. */
  String patch() {
    String path = glossary.id() + "/glossary.yaml";
    List<Ruling> fresh = current().rulings().all().stream().filter(r -> !isInTheGlossary(r)).toList();
    return GlossaryPatch.of(curriculum.text(path).orElseThrow(), fresh).diff("curriculum/" + path);
  }

  private boolean isInTheGlossary(Ruling ruling) {
    return glossary.get(ruling.part()).terms().stream()
        .anyMatch(t -> TermReader.normalForm(t.text()).equals(ruling.phrase()));
  }
}

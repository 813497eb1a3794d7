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
import java.util.OptionalLong;
import java.util.Set;
import java.util.UUID;

/**
 * The rulings on record and what they change: how the next answer is judged, and what past answers count.
 *
 * <p>How many rulings there are is read in the transaction that keeps an answer or a ruling, so that a ruling made at
 * another node holds here at once and the rulings and what every answer counts always agree; the rulings are read and the
 * reader over them made anew only when that number has changed.
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

  /** What holds while these rulings stand; {@code made} tells when they changed, as {@link RulingStore#made} does. */
  private record Current(long made, List<RuledAnswer> standing, Rulings rulings, Marker marker) {}

  RulingBook(Glossary glossary, Curriculum curriculum, RulingStore store, Pictures pictures, Clock clock) {
    this.glossary = glossary;
    this.curriculum = curriculum;
    this.store = store;
    this.pictures = pictures;
    this.clock = clock;
    this.current = over(-1, List.of());
  }

  private Current over(long made, List<RuledAnswer> standing) {
    // a part that this edition does not have any more cannot be ruled on
    List<RuledAnswer> known =
        standing.stream().filter(r -> isNameable(r.ruling().part())).toList();
    Rulings rulings = Rulings.of(glossary, known.stream().map(RuledAnswer::ruling).toList());
    return new Current(made, standing, rulings, new Marker(glossary, rulings, known, OptionalLong.of(made)));
  }

  private boolean isNameable(ConceptId part) {
    return glossary.find(part).filter(Concept::isNameable).isPresent();
  }

  private Current current() {
    // the number before the rulings: read the other way round, an old list could pass for a new one
    long made = store.made();
    Current known = current;
    if (known.made() != made) {
      known = over(made, store.standing());
      current = known;
    }
    return known;
  }

  /** Judges by the names and rulings of this moment. */
  Marker marker() {
    return current().marker();
  }

  /**
   * Judges by the rulings of this moment, or by those of the last time: asking for the moment's costs a query, and an
   * answer that is judged by others is not kept.
   */
  Marker marker(boolean anew) {
    return anew ? marker() : current.marker();
  }

  /** The phrases that await a ruling; what says that its writer does not know the name does not. */
  List<OpenAnswer> open() {
    TermReader reader = current().rulings().reader();
    return store.open().stream()
        .filter(o -> queues(reader, o.part(), o.phrase(), o.disputed()))
        .toList();
  }

  /** How many phrases {@link #open} tells of. */
  int openCount() {
    TermReader reader = current().rulings().reader();
    return (int) store.openPhrases().stream().filter(o -> queues(reader, o.part(), o.phrase(), o.disputed())).count();
  }

  private boolean queues(TermReader reader, ConceptId part, String phrase, int disputed) {
    return isNameable(part) && (disputed > 0 || !NOT_A_NAME.contains(reader.read(phrase).obstacle()));
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

  /**
   * Rules on an answer and regrades. Ask {@link #conflict} first.
   *
   * @return how many answers count otherwise now; empty, with nothing changed, if a ruling that somebody made meanwhile
   *     settles the answer or stands against this one
   */
  Optional<Integer> rule(OpenAnswer open, Ruling.Decision decision, Person by) {
    Ruling ruling = new Ruling(open.phrase(), open.part(), decision);
    Optional<Integer> regraded;
    do {
      regraded = rule(open, ruling, by);
    } while (regraded.isEmpty() && isOpen(open) && conflict(ruling).isEmpty());
    return regraded;
  }

  private boolean isOpen(OpenAnswer open) {
    return open().stream().anyMatch(o -> o.part().equals(open.part()) && o.phrase().equals(open.phrase()));
  }

  private Optional<Integer> rule(OpenAnswer open, Ruling ruling, Person by) {
    Current before = current();
    RuledAnswer ruled =
        new RuledAnswer(
            UUID.randomUUID(),
            glossary.id(),
            curriculum.edition(),
            open.typed().get(0),
            ruling,
            by.id(),
            now(),
            Optional.empty());
    List<RuledAnswer> then = new ArrayList<>(before.standing());
    then.add(ruled);
    Marker marker = over(before.made(), then).marker();
    return store.rule(ruled, before.made(), (response, plan) -> again(marker, response, plan));
  }

  /**
   * Takes a ruling back and regrades.
   *
   * @return how many answers count otherwise now; empty if it was taken back before
   */
  Optional<Integer> undo(RuledAnswer ruled, Person by) {
    Optional<Integer> regraded = Optional.empty();
    while (regraded.isEmpty() && store.ruling(ruled.id()).filter(RuledAnswer::stands).isPresent()) {
      Current before = current();
      List<RuledAnswer> then = before.standing().stream().filter(r -> !r.id().equals(ruled.id())).toList();
      Marker marker = over(before.made(), then).marker();
      regraded =
          store.undo(ruled, by.id(), now(), before.made(), (response, plan) -> again(marker, response, plan));
    }
    return regraded;
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

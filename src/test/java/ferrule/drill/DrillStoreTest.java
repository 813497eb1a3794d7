package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.MethodSource;

@ParameterizedClass
@MethodSource("ferrule.store.RealDatabases#makers")
class DrillStoreTest {

  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final ConceptId CROOK = ConceptId.of("third-slide-crook");
  private static final ConceptId OTHER_CROOK = ConceptId.of("second-slide-crook");
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final Outcome RIGHT = new Outcome("right", 1, "Right.", Optional.empty());
  private static final Outcome MIXED_UP =
      new Outcome("other-part", 0, "That is another crook.", Optional.of(OTHER_CROOK));

  private final Supplier<Database> databases;
  private Database database;
  private DrillStore store;
  private Cohort cohort;
  private Person instructor;
  private Person wren;
  private Person bram;

  DrillStoreTest(Supplier<Database> databases) {
    this.databases = databases;
  }

  @BeforeEach
  void open() {
    database = databases.get();
    store = new DrillStore(database);
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    LocalDate start = LocalDate.of(2026, 9, 7);
    cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusYears(1));
    people.add(cohort);
    instructor = person("isolde", Role.INSTRUCTOR);
    wren = person("wren", Role.APPRENTICE);
    bram = person("bram", Role.APPRENTICE);
    for (Person p : List.of(instructor, wren, bram)) {
      people.add(p, Optional.empty(), Optional.empty());
    }
    people.join(cohort.id(), wren.id(), start, Optional.empty());
    people.join(cohort.id(), bram.id(), start, Optional.empty());
  }

  @AfterEach
  void close() {
    database.close();
  }

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, name, role, Optional.empty());
  }

  private Assignment assignment() {
    Plan plan =
        Plan.ofAssemblies(
            List.of(ConceptId.of("third-slide-assembly"), ConceptId.of("bell-assembly")),
            Set.of(ItemKind.NAME, ItemKind.FIND),
            3,
            true);
    Assignment a =
        new Assignment(
            UUID.randomUUID(), cohort.id(), Set.of(), instructor.id(), "Slides", plan,
            Conditions.dueOn(LocalDate.of(2026, 11, 9)), NOON,
            Optional.empty());
    store.assignments().add(a);
    return a;
  }

  private static Sitting sitting(Person person, Optional<Assignment> of, Instant at) {
    List<Item> items =
        List.of(
            new Item(1, ItemKind.NAME, CROOK, "left", Set.of("lever-key", "student"), Long.MIN_VALUE),
            new Item(2, ItemKind.FIND, RIM, "left", Set.of(), 7),
            new Item(3, ItemKind.FIND, OTHER_CROOK, "second-slide", Set.of("student"), Long.MAX_VALUE));
    Plan three = Plan.ofParts(List.of(CROOK, RIM, OTHER_CROOK), Set.of(ItemKind.NAME), false);
    Plan plan = of.map(Assignment::plan).orElse(three);
    return new Sitting(
        UUID.randomUUID(), person.id(), of.map(Assignment::id), 1, "Slides", plan, -42, "e1", at, items);
  }

  private Response answer(Sitting s, int position, Answer answer, Outcome outcome, Instant at) {
    Optional<String> phrase = answer instanceof Answer.Typed t ? Optional.of(t.text()) : Optional.empty();
    return store.answer(s, s.item(position).orElseThrow(), answer, phrase, outcome, at);
  }

  @Test
  void anAssignmentReadsBackAsItWasSet() {
    Assignment a = assignment();
    assertEquals(Optional.of(a), store.assignments().find(a.id()));
    assertEquals(List.of(a), store.assignments().standing());
    assertEquals(List.of(a), store.assignments().standingFor(wren.id(), List.of(cohort.id())));
    assertEquals(List.of(), store.assignments().standingFor(wren.id(), List.of(UUID.randomUUID())));
  }

  @Test
  void aSittingReadsBackWithItsItemsSoThatItCanBeShownAgain() {
    Sitting s = sitting(wren, Optional.of(assignment()), NOON);
    store.open(s);
    assertEquals(Optional.of(s), store.sitting(s.id()));
    Sitting selfTest = sitting(wren, Optional.empty(), NOON.plusSeconds(60));
    store.open(selfTest);
    assertEquals(Optional.of(selfTest), store.sitting(selfTest.id()));
    assertEquals(
        List.of(selfTest.id(), s.id()), store.sittingsOf(wren.id()).stream().map(SittingSummary::id).toList());
  }

  @Test
  void startingTwiceOpensOneSitting() {
    Assignment a = assignment();
    Sitting first = store.open(sitting(wren, Optional.of(a), NOON)).orElseThrow();
    Sitting second = store.open(sitting(wren, Optional.of(a), NOON.plusSeconds(1))).orElseThrow();
    assertEquals(first, second);
    assertEquals(1, store.sittingsFor(a.id()).size());
    store.open(sitting(bram, Optional.of(a), NOON)).orElseThrow();
    assertEquals(2, store.sittingsFor(a.id()).size());
  }

  @Test
  void anAssignmentThatSomebodyHasStartedCannotBeWithdrawn() {
    Assignment untouched = assignment();
    Assignment started = assignment();
    store.open(sitting(wren, Optional.of(started), NOON));
    assertFalse(store.assignments().withdraw(started.id(), NOON));
    assertTrue(store.assignments().withdraw(untouched.id(), NOON));
    assertFalse(store.assignments().withdraw(untouched.id(), NOON), "it is withdrawn once");
    assertEquals(List.of(started), store.assignments().standing());
    assertEquals(Optional.of(NOON), store.assignments().find(untouched.id()).orElseThrow().withdrawnAt());
  }

  @Test
  void withdrawingIsUndone() {
    Assignment a = assignment();
    store.assignments().withdraw(a.id(), NOON);
    assertEquals(1, store.assignments().withdrawn().size());
    store.assignments().restore(a.id());
    assertEquals(List.of(a), store.assignments().standing());
    assertTrue(store.open(sitting(wren, Optional.of(a), NOON)).isPresent());
  }

  @Test
  void anAssignmentIsChangedUntilSomebodyStartsIt() {
    Assignment a = assignment();
    Conditions strict =
        new Conditions(
            Optional.of(LocalDateTime.of(2026, 11, 3, 8, 0)), LocalDate.of(2026, 11, 5), Optional.of(LocalTime.of(22, 0)),
            false, 3, Conditions.Counts.LAST, Conditions.Feedback.END, Optional.of(Duration.ofMinutes(12)));
    Assignment changed =
        new Assignment(
            a.id(), a.cohort(), Set.of(bram.id()), a.setBy(), "Slides, for one", a.plan(), strict, a.setAt(),
            Optional.empty());
    assertTrue(store.assignments().edit(changed));
    assertEquals(Optional.of(changed), store.assignments().find(a.id()));
    assertEquals(Optional.of(strict), store.assignments().conditions(a.id()));
    assertEquals(List.of(changed), store.assignments().standingFor(bram.id(), List.of(cohort.id())));
    assertEquals(List.of(), store.assignments().standingFor(wren.id(), List.of(cohort.id())));
    store.open(sitting(bram, Optional.of(changed), NOON));
    assertFalse(store.assignments().edit(a));
    assertEquals(Optional.of(changed), store.assignments().find(a.id()));
  }

  @Test
  void aShareOfTheTimeHoldsEverywhereAndMinutesOnTopInOneDrill() {
    Assignment here = assignment();
    Assignment elsewhere = assignment();
    store.assignments().give(here.id(), wren.id(), new Pace(150, 5), instructor.id(), NOON);
    assertEquals(new Pace(150, 5), store.assignments().pace(here.id(), wren.id()));
    assertEquals(new Pace(150, 0), store.assignments().pace(elsewhere.id(), wren.id()));
    assertEquals(Pace.PLAIN, store.assignments().pace(here.id(), bram.id()));
    store.assignments().give(here.id(), wren.id(), Pace.PLAIN, instructor.id(), NOON);
    assertEquals(Map.of(), store.assignments().paces(here.id(), List.of(wren.id(), bram.id())));
  }

  @Test
  void anAnswerThatIsSentTwiceUnderItsIdCountsOnceAndKeepsItsId() {
    Sitting s = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    Item item = s.item(1).orElseThrow();
    UUID id = UUID.randomUUID();
    Answer typed = new Answer.Typed("crook");
    DrillStore.Judge right = anew -> new Judgement(RIGHT, OptionalLong.empty());
    Response once = store.answer(id, s, item, typed, Optional.of("crook"), right, NOON);
    Response twice = store.answer(id, s, item, typed, Optional.of("crook"), right, NOON.plusSeconds(9));
    assertEquals(id, once.id());
    assertEquals(once, twice);
    assertEquals(1, store.responses(s.id()).size());
  }

  @Test
  void whoIsStuckIsSeenByTheFirstOpenItemAndTheMissesBeforeIt() {
    Sitting s = store.open(sitting(wren, Optional.of(assignment()), NOON)).orElseThrow();
    answer(s, 1, new Answer.Typed(""), MIXED_UP, NOON);
    answer(s, 2, new Answer.Pointed(Optional.empty()), MIXED_UP, NOON);
    assertEquals(Map.of(s.id(), new DrillStore.Front(3, OTHER_CROOK, 2)), store.fronts(List.of(s.id())));
    answer(s, 3, new Answer.Pointed(Optional.empty()), RIGHT, NOON);
    assertEquals(Map.of(), store.fronts(List.of(s.id())));
  }

  @Test
  void aWithdrawnAssignmentCannotBeStarted() {
    Assignment a = assignment();
    store.assignments().withdraw(a.id(), NOON);
    assertEquals(Optional.empty(), store.open(sitting(wren, Optional.of(a), NOON)));
    assertEquals(List.of(), store.sittingsFor(a.id()));
  }

  @Test
  void aSecondAnswerToAnItemIsNotKept() {
    Sitting s = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    Response first = answer(s, 1, new Answer.Typed("third slide crook"), RIGHT, NOON);
    Response second = answer(s, 1, new Answer.Typed("second slide crook"), MIXED_UP, NOON.plusSeconds(1));
    assertEquals(first, second);
    assertEquals(List.of(first), store.responses(s.id()));
    assertEquals(RIGHT, second.now());
    assertEquals(Optional.of("third slide crook"), second.typed());
  }

  @Test
  void ofManyAnswersSentAtOnceOneIsKept() throws Exception {
    Sitting s = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    ExecutorService taps = Executors.newFixedThreadPool(8);
    try {
      List<Callable<Response>> tries = new ArrayList<>();
      for (int i = 0; i < 8; i++) {
        String text = "try " + i;
        tries.add(() -> answer(s, 1, new Answer.Typed(text), RIGHT, NOON));
      }
      Set<UUID> kept =
          taps.invokeAll(tries).stream().map(DrillStoreTest::result).map(Response::id).collect(Collectors.toSet());
      assertEquals(1, kept.size());
      assertEquals(1, store.responses(s.id()).size());
    } finally {
      taps.shutdownNow();
    }
  }

  private static Response result(Future<Response> future) {
    try {
      return future.get();
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void anAnswerReadsBackWithWhatWasPointedAt() {
    Sitting s = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    Response pointed = answer(s, 2, new Answer.Pointed(Optional.of(CROOK)), MIXED_UP, NOON);
    Outcome none = new Outcome(Marker.NO_ANSWER, 0, "", Optional.empty());
    Response unknown = answer(s, 3, new Answer.Pointed(Optional.empty()), none, NOON);
    assertEquals(new Answer.Pointed(Optional.of(CROOK)), pointed.answer());
    assertEquals(new Answer.Pointed(Optional.empty()), unknown.answer());
    assertEquals(MIXED_UP, pointed.first());
    assertEquals(s.item(2).orElseThrow(), pointed.item());
  }

  @Test
  void progressCountsAnswersAndCredit() {
    Sitting s = store.open(sitting(wren, Optional.of(assignment()), NOON)).orElseThrow();
    assertEquals(0, store.summary(s.id()).orElseThrow().answered());
    answer(s, 1, new Answer.Typed("crook"), new Outcome("too-vague", 0.5, "Which?", Optional.empty()), NOON);
    answer(s, 2, new Answer.Pointed(Optional.of(RIM)), RIGHT, NOON.plusSeconds(5));
    SittingSummary soFar = store.summary(s.id()).orElseThrow();
    assertEquals(2, soFar.answered());
    assertEquals(3, soFar.length());
    assertEquals(1.5, soFar.credit());
    assertEquals(50, soFar.percent());
    assertFalse(soFar.isDone());
    assertEquals(Optional.of(NOON.plusSeconds(5)), soFar.lastAnswerAt());
    answer(s, 3, new Answer.Pointed(Optional.of(OTHER_CROOK)), RIGHT, NOON.plusSeconds(9));
    assertTrue(store.summary(s.id()).orElseThrow().isDone());
  }

  @Test
  void mixUpsAreCountedByHowOftenAndByHowMany() {
    Assignment a = assignment();
    Sitting one = store.open(sitting(wren, Optional.of(a), NOON)).orElseThrow();
    Sitting two = store.open(sitting(bram, Optional.of(a), NOON)).orElseThrow();
    Sitting selfTest = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    answer(one, 1, new Answer.Typed("second slide crook"), MIXED_UP, NOON);
    answer(two, 1, new Answer.Typed("second slide crook"), MIXED_UP, NOON);
    answer(selfTest, 1, new Answer.Typed("second slide crook"), MIXED_UP, NOON);
    answer(one, 2, new Answer.Pointed(Optional.of(RIM)), RIGHT, NOON);
    assertEquals(List.of(new MixUp(CROOK, OTHER_CROOK, 2, 2)), store.mixUps(List.of(a.id())));
    assertEquals(
        List.of(new PartTally(CROOK, 2, 0), new PartTally(RIM, 1, 1)), store.partTallies(List.of(a.id())));
    assertEquals(List.of(), store.mixUps(List.of()));
  }

  @Test
  void sayingTwiceThatAnAnswerWasRightIsOneDispute() {
    Sitting s = store.open(sitting(wren, Optional.empty(), NOON)).orElseThrow();
    Response r = answer(s, 1, new Answer.Typed("bow"), MIXED_UP, NOON);
    assertFalse(r.disputed());
    store.dispute(r.id(), NOON);
    store.dispute(r.id(), NOON.plusSeconds(1));
    assertTrue(store.response(s.id(), 1).orElseThrow().disputed());
  }
}

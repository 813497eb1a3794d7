package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.known.Answered;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.glossary.ConceptId;
import ferrule.naming.Ruling;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.MethodSource;

@ParameterizedClass
@MethodSource("ferrule.store.RealDatabases#makers")
class KnownStoreTest {

  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final ConceptId CROOK = ConceptId.of("third-slide-crook");
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final Outcome RIGHT = new Outcome("right", 1, "Right.", Optional.empty());
  private static final Outcome WRONG = new Outcome("unknown", 0, "No.", Optional.empty());
  private static final Plan PLAN = Plan.ofParts(List.of(CROOK, RIM), Set.of(ItemKind.NAME, ItemKind.FIND), true);

  private final Supplier<Database> databases;
  private Database database;
  private DrillStore drills;
  private KnownStore known;
  private Person wren;
  private Person bram;

  KnownStoreTest(Supplier<Database> databases) {
    this.databases = databases;
  }

  @BeforeEach
  void open() {
    database = databases.get();
    drills = new DrillStore(database);
    known = new KnownStore(database);
    wren = person("wren");
    bram = person("bram");
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    people.add(wren, Optional.empty(), Optional.empty());
    people.add(bram, Optional.empty(), Optional.empty());
  }

  @AfterEach
  void close() {
    database.close();
  }

  private static Person person(String name) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, Role.APPRENTICE, Optional.empty());
  }

  private Sitting sit(Person who, Instant at) {
    List<Item> items =
        List.of(
            new Item(1, ItemKind.NAME, CROOK, "left", Set.of(), 1),
            new Item(2, ItemKind.FIND, RIM, "left", Set.of(), 2));
    return drills
        .open(new Sitting(UUID.randomUUID(), who.id(), Optional.empty(), 1, "Test", PLAN, 1, "e1", at, items))
        .orElseThrow();
  }

  private Response answer(Sitting s, int position, Outcome outcome, Instant at) {
    Item item = s.item(position).orElseThrow();
    Answer answer = item.kind() == ItemKind.NAME ? new Answer.Typed("x") : new Answer.Pointed(Optional.empty());
    Optional<String> phrase = item.kind() == ItemKind.NAME ? Optional.of("x") : Optional.empty();
    return drills.answer(s, item, answer, phrase, outcome, at);
  }

  private static Answered answered(Person who, ConceptId part, ItemKind kind, double credit, Instant at) {
    return new Answered(who.id(), part, KnownAnswerStore.asking(kind).orElseThrow(), credit, at);
  }

  private static Instant day(int day) {
    return NOON.plus(Duration.ofDays(day));
  }

  private Knowledge kept() {
    return known.knowledge(List.of(wren.id(), bram.id()));
  }

  private void assertSame(Knowledge expected, Knowledge actual) {
    for (Person p : List.of(wren, bram)) {
      assertEquals(expected.ability(p.id()), actual.ability(p.id()));
      for (ConceptId part : List.of(CROOK, RIM)) {
        assertEquals(expected.trace(p.id(), part), actual.trace(p.id(), part), p.signInName() + " " + part);
        assertEquals(expected.difficulty(part), actual.difficulty(part));
      }
    }
  }

  @Test
  void whatIsKeptStepByStepIsWhatFollowsFromAllAnswers() {
    kept(); // from here on, answers are taken in one by one
    Sitting first = sit(wren, day(0));
    answer(first, 1, WRONG, day(0));
    answer(first, 2, RIGHT, day(0).plusSeconds(20));
    Sitting second = sit(bram, day(1));
    answer(second, 1, RIGHT, day(1));
    Sitting third = sit(wren, day(3));
    answer(third, 1, RIGHT, day(3));
    Knowledge expected =
        Knowledge.replay(
            KnownModel.standard(),
            List.of(
                answered(wren, CROOK, ItemKind.NAME, 0, day(0)),
                answered(wren, RIM, ItemKind.FIND, 1, day(0).plusSeconds(20)),
                answered(bram, CROOK, ItemKind.NAME, 1, day(1)),
                answered(wren, CROOK, ItemKind.NAME, 1, day(3))));
    assertSame(expected, kept());
    assertEquals(2, kept().trace(wren.id(), CROOK).orElseThrow().asked());
  }

  @Test
  void anAnswerThatComesInLateIsPutInItsPlace() {
    kept();
    Sitting today = sit(wren, day(5));
    answer(today, 1, RIGHT, day(5));
    Sitting earlier = sit(wren, day(2));
    answer(earlier, 1, WRONG, day(2));
    Knowledge expected =
        Knowledge.replay(
            KnownModel.standard(),
            List.of(
                answered(wren, CROOK, ItemKind.NAME, 0, day(2)), answered(wren, CROOK, ItemKind.NAME, 1, day(5))));
    assertSame(expected, kept());
  }

  @Test
  void anAnswerThatIsNotKeptTeachesNothing() {
    kept();
    Sitting s = sit(wren, day(0));
    answer(s, 1, RIGHT, day(0));
    answer(s, 1, WRONG, day(1));
    assertEquals(1, kept().trace(wren.id(), CROOK).orElseThrow().asked());
    assertTrue(kept().chance(wren.id(), CROOK, day(1)).likely() > 0.8);
  }

  @Test
  void answersOfManyAtOnceAreAllTakenIn() throws Exception {
    kept();
    List<Sitting> sittings = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      sittings.add(sit(i % 2 == 0 ? wren : bram, day(i)));
    }
    ExecutorService desks = Executors.newFixedThreadPool(6);
    try {
      List<Callable<Response>> tasks = new ArrayList<>();
      for (int i = 0; i < sittings.size(); i++) {
        Sitting s = sittings.get(i);
        Instant at = day(i);
        tasks.add(() -> answer(s, 1, RIGHT, at));
      }
      for (Future<Response> done : desks.invokeAll(tasks)) {
        done.get();
      }
    } finally {
      desks.shutdownNow();
    }
    List<Answered> inOrder = new ArrayList<>();
    for (int i = 0; i < sittings.size(); i++) {
      inOrder.add(answered(i % 2 == 0 ? wren : bram, CROOK, ItemKind.NAME, 1, day(i)));
    }
    assertSame(Knowledge.replay(KnownModel.standard(), inOrder), kept());
  }

  @Test
  void aRulingThatRegradesAnAnswerChangesWhatIsKnown() {
    kept();
    Sitting s = sit(wren, day(0));
    answer(s, 1, WRONG, day(0));
    double before = kept().chance(wren.id(), CROOK, day(1)).likely();
    RuledAnswer ruling =
        new RuledAnswer(
            UUID.randomUUID(), "trumpet", "e1", "x", Ruling.on("x", CROOK, new Ruling.Decision.AcceptOnce()), wren.id(),
            day(1), Optional.empty());
    assertEquals(Optional.of(1), new RulingStore(database).rule(ruling, 0, (response, plan) -> RIGHT));
    double after = kept().chance(wren.id(), CROOK, day(1)).likely();
    assertTrue(after > before + 0.2, before + " " + after);
    assertSame(
        Knowledge.replay(KnownModel.standard(), List.of(answered(wren, CROOK, ItemKind.NAME, 1, day(0)))), kept());
  }

  @Test
  void answersFromBeforeTheSummaryAreTakenInWhenItIsFirstRead() {
    Sitting s = sit(wren, day(0));
    answer(s, 1, RIGHT, day(0));
    assertEquals(1, kept().trace(wren.id(), CROOK).orElseThrow().asked());
  }
}

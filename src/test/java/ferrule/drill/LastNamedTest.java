package ferrule.drill;

import static ferrule.store.jooq.Tables.NAMED_LAST;
import static ferrule.store.jooq.Tables.NAMED_UNREAD;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.ConceptId;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.MethodSource;

/** The last answers that are kept, beside those that are found among all that were given. */
@ParameterizedClass
@MethodSource("ferrule.store.RealDatabases#makers")
class LastNamedTest {

  private static final Instant START = Instant.parse("2026-11-02T12:00:00.123456789Z");
  private static final List<ConceptId> PARTS = IntStream.range(0, 3).mapToObj(i -> ConceptId.of("part-" + i)).toList();
  private static final Plan PLAN = Plan.ofParts(PARTS, Set.of(ItemKind.NAME, ItemKind.FIND), true);
  // both databases order ids by their text
  private static final Comparator<Given> IN_ORDER =
      Comparator.comparing(Given::at).thenComparing(g -> g.response().toString());

  private final Supplier<Database> databases;
  private final List<Given> given = new ArrayList<>();
  private final List<UUID> people = new ArrayList<>();
  private Database database;
  private DrillStore drills;
  private LastNamedStore store;

  LastNamedTest(Supplier<Database> databases) {
    this.databases = databases;
  }

  private record Given(UUID response, UUID person, ConceptId part, double credit, Instant at) {}

  @BeforeEach
  void open() {
    database = databases.get();
    drills = new DrillStore(database);
    store = new LastNamedStore(database);
    for (int i = 0; i < 5; i++) {
      UUID id = UUID.randomUUID();
      people.add(id);
      new PeopleStore(database, Clock.systemUTC()).add(
          new Person(id, "name" + i, "Invented " + i, Role.APPRENTICE, Optional.empty()), Optional.empty(),
          Optional.empty());
    }
  }

  @AfterEach
  void close() {
    database.close();
  }

  private Optional<Given> answer(UUID person, ItemKind kind, ConceptId part, double credit, Instant at) {
    Item item = new Item(1, kind, part, "left", Set.of(), 1);
    Sitting sitting = drills
        .open(new Sitting(UUID.randomUUID(), person, Optional.empty(), 1, "Test", PLAN, 1, "e1", START, List.of(item)))
        .orElseThrow();
    Outcome outcome = new Outcome(credit < 1 ? "unknown" : "right", credit, "Test.", Optional.empty());
    Response kept = drills.answer(sitting, item, new Answer.Typed("x"), Optional.of("x"), outcome, at);
    return kind == ItemKind.NAME
        ? Optional.of(new Given(kept.id(), person, part, credit, kept.answeredAt()))
        : Optional.empty();
  }

  private void answerSome(SplittableRandom random, int many) {
    for (int i = 0; i < many; i++) {
      // few moments, so that many answers share one, or are a part of a microsecond apart
      Instant at = START.plusSeconds(random.nextInt(8)).plusNanos(random.nextInt(3) * 400L);
      answer(
          people.get(random.nextInt(people.size())), random.nextInt(4) == 0 ? ItemKind.FIND : ItemKind.NAME,
          PARTS.get(random.nextInt(PARTS.size())), random.nextInt(3) / 2.0, at).ifPresent(given::add);
    }
  }

  private Map<UUID, Map<ConceptId, LastNamedStore.Last>> expected(Instant upTo) {
    Map<UUID, Map<ConceptId, LastNamedStore.Last>> last = new HashMap<>();
    given.stream().filter(g -> !g.at().isAfter(upTo)).sorted(IN_ORDER).forEach(g ->
        last.computeIfAbsent(g.person(), p -> new HashMap<>())
            .put(g.part(), new LastNamedStore.Last(g.response(), g.credit())));
    return last;
  }

  private void assertSame(String when) {
    for (int second = -1; second <= 9; second++) {
      Instant upTo = START.plusSeconds(second).plusNanos(300);
      assertEquals(expected(upTo), store.last(people, upTo), when + ", at second " + second);
    }
  }

  @Test
  void theyAreThoseThatWereGivenLastUpToAnyMoment() {
    SplittableRandom random = new SplittableRandom(75);
    for (int turn = 0; turn < 8; turn++) {
      answerSome(random, 20);
      assertSame("turn " + turn);
    }
    assertEquals(0, database.dsl().fetchCount(NAMED_UNREAD), "nobody is to be looked through");
    assertFalse(store.lookSomeThrough());
    assertTrue(given.size() > 100, "much was named");
  }

  @Test
  void answersThatAnOlderProgramKeptAreFoundBeforeAndAfterTheyAreLookedThrough() {
    SplittableRandom random = new SplittableRandom(7);
    answerSome(random, 80);
    database.dsl().deleteFrom(NAMED_LAST).execute();
    people.forEach(who -> database.dsl().insertInto(NAMED_UNREAD).values(who).execute());
    assertSame("nobody is looked through");
    answerSome(random, 20);
    assertSame("some have answered since");
    assertTrue(store.lookSomeThrough());
    assertSame("some are looked through");
    answerSome(random, 20);
    while (store.lookSomeThrough()) {
      assertSame("more are looked through");
    }
    assertEquals(0, database.dsl().fetchCount(NAMED_UNREAD));
    assertSame("all are looked through");
  }

  @Test
  void ofAnswersThatComeAtOnceTheLastIsKept() throws Exception {
    ExecutorService each = Executors.newFixedThreadPool(4);
    try {
      for (int turn = 0; turn < 12; turn++) {
        UUID person = people.get(turn % people.size());
        ConceptId part = PARTS.get(turn % PARTS.size());
        List<Future<Optional<Given>>> answers = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
          Instant at = START.plusSeconds(turn * 10L + (i * 7 + turn) % 4);
          answers.add(each.submit(() -> answer(person, ItemKind.NAME, part, 1, at)));
        }
        for (Future<Optional<Given>> answer : answers) {
          given.add(answer.get().orElseThrow());
        }
        Instant now = START.plusSeconds(1_000);
        assertEquals(expected(now), store.last(people, now));
      }
      Set<UUID> kept =
          database.dsl().select(NAMED_LAST.RESPONSE_ID).from(NAMED_LAST).fetchSet(NAMED_LAST.RESPONSE_ID);
      Set<UUID> wanted = new HashSet<>();
      expected(START.plusSeconds(1_000)).values().forEach(parts -> parts.values().forEach(l -> wanted.add(l.response())));
      assertEquals(wanted, kept, "these are the rows that are read");
    } finally {
      each.shutdown();
    }
  }
}

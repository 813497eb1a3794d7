package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.KNOWN_ANEW;
import static ferrule.store.jooq.Tables.KNOWN_PENDING;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.known.Answered;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.glossary.ConceptId;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What is known after answers that came in in any order and were regraded at any time, beside what follows from all of them
 * in their order.
 */
@ParameterizedClass
@MethodSource("ferrule.store.RealDatabases#makers")
class KnownCorrectionTest {

  private static final Instant START = Instant.parse("2026-11-02T12:00:00Z");
  private static final int PEOPLE = 7;
  private static final int STEPS = 90;
  private static final List<ConceptId> PARTS =
      IntStream.range(0, 5).mapToObj(i -> ConceptId.of("part-" + i)).toList();
  private static final Plan PLAN = Plan.ofParts(PARTS, Set.of(ItemKind.NAME, ItemKind.FIND), true);

  private final Supplier<Database> databases;
  private final Map<UUID, Answered> given = new HashMap<>();
  private final List<UUID> people = new ArrayList<>();
  private Database database;
  private DrillStore drills;

  KnownCorrectionTest(Supplier<Database> databases) {
    this.databases = databases;
  }

  @BeforeEach
  void open() {
    database = databases.get();
    drills = new DrillStore(database);
    for (int i = 0; i < PEOPLE; i++) {
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

  private void answer(SplittableRandom random, Instant at) {
    UUID person = people.get(random.nextInt(PEOPLE));
    ItemKind kind = random.nextBoolean() ? ItemKind.NAME : ItemKind.FIND;
    ConceptId part = PARTS.get(random.nextInt(PARTS.size()));
    Item item = new Item(1, kind, part, "left", Set.of(), 1);
    Sitting sitting = drills
        .open(new Sitting(UUID.randomUUID(), person, Optional.empty(), 1, "Test", PLAN, 1, "e1", at, List.of(item)))
        .orElseThrow();
    Response kept = drills.answer(
        sitting, item, new Answer.Typed("x"), Optional.of("x"), counting(random.nextInt(3) / 2.0), at);
    given.put(
        kept.id(), new Answered(person, part, KnownAnswerStore.asking(kind).orElseThrow(), kept.now().credit(), at));
  }

  private static Outcome counting(double credit) {
    return new Outcome(credit < 1 ? "unknown" : "right", credit, "Test.", Optional.empty());
  }

  private void regrade(SplittableRandom random) {
    UUID response = List.copyOf(given.keySet()).get(random.nextInt(given.size()));
    double credit = random.nextInt(3) / 2.0;
    Outcome now = counting(credit);
    database.transact(dsl -> {
      UUID id = UUID.randomUUID();
      dsl.insertInto(DRILL_REGRADE)
          .set(DRILL_REGRADE.ID, id)
          .set(DRILL_REGRADE.RESPONSE_ID, response)
          .set(DRILL_REGRADE.ORDINAL, 1 + dsl.fetchCount(DRILL_REGRADE, DRILL_REGRADE.RESPONSE_ID.eq(response)))
          .set(DRILL_REGRADE.VERDICT, now.verdict())
          .set(DRILL_REGRADE.CREDIT, credit)
          .set(DRILL_REGRADE.REASON, now.reason())
          .set(DRILL_REGRADE.REGRADED_AT, START)
          .execute();
      DrillStore.noteRegrade(dsl, response, id, START);
    });
    given.computeIfPresent(
        response, (id, a) -> new Answered(a.person(), a.part(), a.asking(), credit, a.at()));
  }

  private void assertKnown(KnownStore known, String when) {
    List<UUID> inOrder = database.dsl().select(DRILL_RESPONSE.ID).from(DRILL_RESPONSE)
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.ID).fetch(DRILL_RESPONSE.ID);
    Knowledge expected = Knowledge.replay(KnownModel.standard(), inOrder.stream().map(given::get).toList());
    Knowledge actual = known.knowledge(people);
    for (ConceptId part : PARTS) {
      assertEquals(expected.difficulty(part), actual.difficulty(part), when + ": " + part);
    }
    for (UUID person : people) {
      assertEquals(expected.ability(person), actual.ability(person), when);
      assertEquals(expected.traces(person), actual.traces(person), when);
    }
  }

  /** A moment after all before, at the same moment as the last, or some way back. */
  private static Instant moment(SplittableRandom random, Instant latest) {
    return switch (random.nextInt(6)) {
      case 0 -> latest.minusSeconds(random.nextInt(40));
      case 1 -> latest.minus(Duration.ofHours(random.nextInt(400)));
      case 2 -> latest;
      default -> latest.plusSeconds(random.nextInt(20_000));
    };
  }

  private void happen(KnownStore known, long seed, boolean look) {
    SplittableRandom random = new SplittableRandom(seed);
    Instant latest = START;
    for (int i = 0; i < STEPS; i++) {
      if (i > 10 && random.nextInt(8) == 0) {
        regrade(random);
      } else {
        Instant at = moment(random, latest);
        answer(random, at);
        latest = at.isAfter(latest) ? at : latest;
      }
      if (random.nextInt(3) == 0) {
        known.takeSomeIn();
      }
      if (look && random.nextInt(12) == 0) {
        assertKnown(known, "seed " + seed + ", step " + i);
      }
    }
  }

  @Test
  void whateverOrderAnswersComeInTheSameIsKnownAtOnce() {
    KnownStore known = new KnownStore(database);
    happen(known, 1, true);
    assertKnown(known, "in the end");
  }

  @Test
  void whatIsPutRightInSmallPortionsIsRightInTheEnd() {
    KnownStore known = new KnownStore(database, new KnownStore.Portion(3, 2, 1));
    for (long seed = 2; seed < 4; seed++) {
      happen(known, seed, false);
      int portions = 0;
      while (known.takeSomeIn()) {
        assertTrue(portions++ < 5_000, "it comes to an end");
      }
      assertEquals(0, database.dsl().fetchCount(KNOWN_ANEW));
      assertKnown(known, "seed " + seed);
    }
  }

  @Test
  void whoReadsWhileMuchIsPutRightIsToldWhatWasKnownAndAllAnswersSince() {
    KnownStore known = new KnownStore(database, new KnownStore.Portion(500, 2, 1));
    happen(known, 5, false);
    while (known.takeSomeIn()) {
      // until all is right
    }
    Instant first = given.values().stream().map(Answered::at).min(Instant::compareTo).orElseThrow();
    Knowledge before = known.knowledge(people);
    answer(new SplittableRandom(6), first.minusSeconds(1));
    known.takeSomeIn();
    Knowledge meanwhile = known.knowledge(people);
    assertTrue(known.takeSomeIn(), "the reader left something to do");
    for (ConceptId part : PARTS) {
      assertEquals(before.difficulty(part), meanwhile.difficulty(part));
    }
    while (known.takeSomeIn()) {
      // until all is right again
    }
    assertFalse(
        database.dsl().fetchExists(KNOWN_PENDING, KNOWN_PENDING.ANSWERED_AT.lt(first)), "the late answer is taken in");
    assertKnown(known, "in the end");
  }

  @Test
  void afterAnUpgradeAllIsReadOnceMore() {
    KnownStore known = new KnownStore(database);
    happen(known, 7, false);
    known.knowledge(people);
    database.dsl().execute("delete from known_first");
    database.dsl().execute("insert into known_anew (id, person_id, after_firsts) select id, id, false from person");
    assertKnown(known, "from the notes that the migration leaves");
  }
}

package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.drill.Answer;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Outcome;
import ferrule.drill.Plan;
import ferrule.drill.Response;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.jooq.Tables;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class NamingStoreTest {

  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final ConceptId CROOK = ConceptId.of("third-slide-crook");
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final Outcome RIGHT = new Outcome("right-synonym", 1, "Right.", Optional.empty());
  private static final Outcome COLLOQUIAL = new Outcome("right-colloquial", 0.5, "An everyday name.", Optional.empty());
  private static final Outcome WRONG = new Outcome("unknown", 0, "Not known.", Optional.empty());

  private final Person wren = person("wren", Role.APPRENTICE);
  private final Person bram = person("bram", Role.APPRENTICE);
  private final Person isolde = person("isolde", Role.INSTRUCTOR);

  private Database database;
  private DrillStore drills;

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  private void fill(Database fresh) {
    database = fresh;
    drills = new DrillStore(database);
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    List.of(wren, bram, isolde).forEach(p -> people.add(p, Optional.empty(), Optional.empty()));
  }

  private Response asked(Person who, ItemKind kind, ConceptId part, Outcome outcome, Instant at) {
    Item item = new Item(1, kind, part, "left", Set.of(), 1);
    Sitting sitting =
        new Sitting(
            UUID.randomUUID(), who.id(), Optional.empty(), 1, "Self-test", Plan.ofParts(List.of(part), Set.of(kind), false),
            1, "e1", at, List.of(item));
    drills.open(sitting);
    return drills.answer(sitting, item, new Answer.Typed("crook"), Optional.of("crook"), outcome, at);
  }

  private Map<UUID, Set<ConceptId>> right(Instant at) {
    Map<UUID, Set<ConceptId>> right = new HashMap<>();
    new NamingStore(database).named(List.of(wren.id(), bram.id()), at).forEach((who, named) -> {
      if (!named.right().isEmpty()) {
        right.put(who, named.right());
      }
    });
    return right;
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theLastAnswerUpToThenCounts(Database fresh) {
    try (fresh) {
      fill(fresh);
      asked(wren, ItemKind.NAME, CROOK, WRONG, NOON);
      asked(wren, ItemKind.NAME, CROOK, RIGHT, NOON.plusSeconds(60));
      asked(wren, ItemKind.NAME, RIM, RIGHT, NOON.plusSeconds(60));
      asked(wren, ItemKind.NAME, RIM, WRONG, NOON.plusSeconds(120));
      asked(bram, ItemKind.NAME, RIM, RIGHT, NOON);
      assertEquals(Map.of(bram.id(), Set.of(RIM)), right(NOON));
      assertEquals(Map.of(bram.id(), Set.of(RIM), wren.id(), Set.of(CROOK, RIM)), right(NOON.plusSeconds(60)));
      assertEquals(Map.of(bram.id(), Set.of(RIM), wren.id(), Set.of(CROOK)), right(NOON.plusSeconds(120)));
      assertEquals(Map.of(), right(NOON.minusSeconds(1)));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void pointingAtAPartIsNotNamingItAndAnEverydayNameIsNotATradeTerm(Database fresh) {
    try (fresh) {
      fill(fresh);
      asked(wren, ItemKind.FIND, CROOK, RIGHT, NOON);
      asked(wren, ItemKind.NAME, RIM, COLLOQUIAL, NOON);
      assertEquals(Map.of(), right(NOON));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aRulingCountsFromTheMomentItIsMade(Database fresh) {
    try (fresh) {
      fill(fresh);
      Response answer = asked(wren, ItemKind.NAME, CROOK, WRONG, NOON);
      Instant ruledAt = NOON.plus(Duration.ofDays(1));
      rule(answer, 1, 1.0, ruledAt);
      rule(answer, 2, 0.0, ruledAt.plus(Duration.ofDays(1)));
      assertEquals(Map.of(), right(NOON));
      assertEquals(Map.of(wren.id(), Set.of(CROOK)), right(ruledAt));
      assertEquals(Map.of(), right(ruledAt.plus(Duration.ofDays(1))), "the ruling was undone");
    }
  }

  private void rule(Response answer, int ordinal, double credit, Instant at) {
    UUID ruling = UUID.randomUUID();
    var r = Tables.DRILL_RULING;
    database.dsl().insertInto(r)
        .set(r.ID, ruling).set(r.GLOSSARY, "trumpet").set(r.EDITION, "e1").set(r.PART, CROOK.value())
        .set(r.TYPED, "crook").set(r.PHRASE, "crook").set(r.DECISION, "synonym").set(r.REASON, "Said in this shop.")
        .set(r.RULED_BY, isolde.id()).set(r.RULED_AT, at).execute();
    var g = Tables.DRILL_REGRADE;
    database.dsl().insertInto(g)
        .set(g.ID, UUID.randomUUID()).set(g.RESPONSE_ID, answer.id()).set(g.ORDINAL, ordinal).set(g.RULING_ID, ruling)
        .set(g.VERDICT, credit > 0 ? "right-synonym" : "unknown").set(g.CREDIT, credit).set(g.REASON, "Ruled.")
        .set(g.REGRADED_AT, at).execute();
  }
}

package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.glossary.ConceptId;
import ferrule.naming.Ruling;
import ferrule.naming.Ruling.Decision;
import ferrule.naming.TermReader;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.MethodSource;

@ParameterizedClass
@MethodSource("ferrule.store.RealDatabases#makers")
class RulingBookTest {

  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final ConceptId CROOK = Trumpet.part("third slide crook");
  private static final ConceptId CASING = Trumpet.part("second valve casing");
  private static final String NOVEL = "goose neck";

  private final Supplier<Database> databases;
  private Database database;
  private DrillStore store;
  private RulingStore rulingStore;
  private RulingBook book;
  private Person isolde;
  private Person wren;
  private Person bram;
  private Instant now = NOON;

  RulingBookTest(Supplier<Database> databases) {
    this.databases = databases;
  }

  @BeforeEach
  void open() {
    database = databases.get();
    store = new DrillStore(database);
    rulingStore = new RulingStore(database);
    book = node();
    isolde = person("isolde", Role.INSTRUCTOR);
    wren = person("wren", Role.APPRENTICE);
    bram = person("bram", Role.APPRENTICE);
  }

  private RulingBook node() {
    Clock later = Clock.fixed(NOON.plus(Duration.ofHours(2)), ZoneOffset.UTC);
    return new RulingBook(Trumpet.GLOSSARY, Curriculum.bundled(), rulingStore, Trumpet.PICTURES, later);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private Person person(String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    new PeopleStore(database, Clock.systemUTC()).add(person, Optional.empty(), Optional.empty());
    return person;
  }

  /** One answer of a person to "what is this called" for a part, in a drill that takes everyday names or not. */
  private Response answer(Person who, ConceptId part, String typed, boolean colloquial) {
    Sitting sitting = sitting(who, part, colloquial);
    now = now.plusSeconds(10);
    return answer(sitting, typed, judge(book, sitting, typed, now), now);
  }

  private Sitting sitting(Person who, ConceptId part, boolean colloquial) {
    Item item = new Item(1, ItemKind.NAME, part, "players-left", Set.of(), 5);
    Plan plan = Plan.ofParts(List.of(part), Set.of(ItemKind.NAME), colloquial);
    return store
        .open(
            new Sitting(
                UUID.randomUUID(), who.id(), Optional.empty(), 1, "Self-test", plan, 1, "e1", now, List.of(item)))
        .orElseThrow();
  }

  private static DrillStore.Judge judge(RulingBook node, Sitting sitting, String typed, Instant at) {
    Item item = sitting.items().get(0);
    return anew ->
        node.marker(anew)
            .judge(item, new Answer.Typed(typed), at, Trumpet.PICTURES.sight(item), sitting.plan().colloquial());
  }

  private Response answer(Sitting sitting, String typed, DrillStore.Judge judge, Instant at) {
    Answer.Typed answer = new Answer.Typed(typed);
    return store.answer(
        UUID.randomUUID(), sitting, sitting.items().get(0), answer, Marker.phrase(answer), judge, at);
  }

  private Response again(Response response) {
    return store.response(response.sitting(), 1).orElseThrow();
  }

  private OpenAnswer onlyOpen() {
    List<OpenAnswer> open = book.open();
    assertEquals(1, open.size(), open.toString());
    assertEquals(1, book.openCount());
    return open.get(0);
  }

  private Optional<String> conflict(Decision decision) {
    return book.conflict(new Ruling(onlyOpen().phrase(), onlyOpen().part(), decision));
  }

  @Test
  void whatWasNotUnderstoodQueuesWithHowOftenAndByWhom() {
    answer(wren, CROOK, "Goose neck", true);
    answer(bram, CROOK, "goose-neck!", true);
    answer(bram, CROOK, "goose neck", true);
    answer(bram, CROOK, "third slide crook", true);
    OpenAnswer open = onlyOpen();
    assertEquals(CROOK, open.part());
    assertEquals(3, open.times());
    assertEquals(Set.of(wren.id(), bram.id()), Set.copyOf(open.people()));
    assertEquals(List.of("goose neck", "goose-neck!", "Goose neck"), open.typed());
  }

  @Test
  void whoSaysThatTheyDoNotKnowDoesNotQueue() {
    answer(wren, CROOK, "I don't know", true);
    answer(wren, CROOK, "???", true);
    assertEquals(List.of(), book.open());
    assertEquals(0, book.openCount());
  }

  @Test
  void aDisputedAnswerQueues() {
    Response vague = answer(wren, CROOK, "crook", true);
    assertEquals(List.of(), book.open());
    assertEquals(0, book.openCount());
    store.dispute(vague.id(), NOON);
    assertEquals(1, book.openCount());
    assertEquals(1, onlyOpen().disputed());
  }

  @Test
  void aTermThatIsAcceptedCountsAtOnceForEveryPastAndComingAnswer() {
    Response one = answer(wren, CROOK, "Goose neck", true);
    Response two = answer(bram, CROOK, "goose-neck", true);
    assertEquals(Optional.empty(), conflict(new Decision.AcceptAsTerm()));
    assertEquals(Optional.of(2), book.rule(onlyOpen(), new Decision.AcceptAsTerm(), isolde));
    for (Response r : List.of(one, two)) {
      assertEquals("right-synonym", again(r).now().verdict());
      assertTrue(again(r).now().isRight());
      assertEquals(r.first(), again(r).first(), "the answer's own outcome is not overwritten");
      assertEquals(rulingStore.rulings().get(0).id(), again(r).ruling().orElseThrow());
    }
    assertEquals(List.of(), book.open());
    assertTrue(answer(wren, CROOK, "goose neck", true).first().isRight());
    Outcome elsewhere =
        node().marker().mark(
            one.item(), new Answer.Typed("GOOSE NECK"), Trumpet.PICTURES.sight(one.item()), true);
    assertEquals("right-synonym", elsewhere.verdict(), "at another node");
  }

  @Test
  void anEverydayNameIsRegradedByThePolicyOfItsOwnDrill() {
    Response taken = answer(wren, CROOK, NOVEL, true);
    Response notTaken = answer(bram, CROOK, NOVEL, false);
    book.rule(onlyOpen(), new Decision.AcceptAsColloquial(), isolde);
    assertTrue(again(taken).now().isRight());
    assertEquals("right-colloquial", again(notTaken).now().verdict());
    assertEquals(0, again(notTaken).now().credit());
  }

  @Test
  void acceptedOnceHoldsForTheAnswersSoFarOnly() {
    Response before = answer(wren, CROOK, NOVEL, true);
    book.rule(onlyOpen(), new Decision.AcceptOnce(), isolde);
    assertTrue(again(before).now().isRight());
    now = NOON.plus(Duration.ofDays(1));
    Response after = answer(bram, CROOK, NOVEL, true);
    assertFalse(after.first().isRight());
    assertEquals(1, onlyOpen().times());
  }

  @Test
  void whatIsNotAcceptedSaysWhyNowAndNextTime() {
    Response before = answer(wren, CROOK, NOVEL, true);
    book.rule(onlyOpen(), new Decision.Reject("that is the leadpipe of another instrument"), isolde);
    assertTrue(again(before).now().reason().contains("leadpipe of another instrument"));
    assertEquals(0, again(before).now().credit());
    Response after = answer(bram, CROOK, NOVEL, true);
    assertEquals("not-accepted", after.first().verdict());
    assertEquals(List.of(), book.open());
  }

  @Test
  void aRulingThatIsTakenBackCountsNoMoreAndTheAnswersQueueAgain() {
    Response answer = answer(wren, CROOK, NOVEL, true);
    book.rule(onlyOpen(), new Decision.AcceptAsTerm(), isolde);
    RuledAnswer ruling = rulingStore.rulings().get(0);
    assertEquals(Optional.of(1), book.undo(ruling, isolde));
    assertEquals(answer.first(), again(answer).now());
    assertEquals(1, onlyOpen().times());
    assertFalse(rulingStore.ruling(ruling.id()).orElseThrow().stands());
    assertEquals(Optional.empty(), book.undo(ruling, isolde), "it is taken back once");
    assertFalse(answer(bram, CROOK, NOVEL, true).first().isRight());
  }

  @Test
  void anAnswerJudgedJustBeforeARulingIsNotKeptAsItWasJudged() {
    answer(wren, CROOK, NOVEL, true);
    OpenAnswer open = onlyOpen();
    Sitting sitting = sitting(bram, CROOK, true);
    DrillStore.Judge judge = judge(book, sitting, NOVEL, now);
    assertFalse(judge.judge(true).outcome().isRight());
    node().rule(open, new Decision.AcceptAsTerm(), isolde);
    Response kept = answer(sitting, NOVEL, judge, now);
    assertEquals("right-synonym", kept.first().verdict());
  }

  @Test
  void anAnswerThatComesWhileARulingRegradesIsJudgedByIt() throws Exception {
    answer(wren, CROOK, NOVEL, true);
    OpenAnswer open = onlyOpen();
    Sitting sitting = sitting(bram, CROOK, true);
    ExecutorService threads = Executors.newSingleThreadExecutor();
    List<Future<Response>> coming = new ArrayList<>();
    RuledAnswer ruling =
        new RuledAnswer(
            UUID.randomUUID(), "trumpet", "e1", NOVEL,
            new Ruling(open.phrase(), CROOK, new Decision.AcceptAsTerm()), isolde.id(), now, Optional.empty());
    // asked for once the answers to regrade were read, before the ruling is committed
    BiFunction<Response, Plan, Outcome> regrading =
        (response, plan) -> {
          coming.add(threads.submit(() -> answer(sitting, NOVEL, judge(node(), sitting, NOVEL, now), now)));
          assertThrows(TimeoutException.class, () -> coming.get(0).get(200, TimeUnit.MILLISECONDS));
          return new Outcome("right-synonym", 1, "Right.", Optional.empty());
        };
    assertEquals(Optional.of(1), rulingStore.rule(ruling, rulingStore.made(), regrading));
    assertEquals("right-synonym", coming.get(0).get().now().verdict());
    threads.shutdown();
  }

  @Test
  void howeverAnswersAndRulingsMeetEveryAnswerCountsWhatTheRulingsSay() throws Exception {
    answer(wren, CROOK, NOVEL, true);
    OpenAnswer open = onlyOpen();
    List<Sitting> asked = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      asked.add(sitting(i % 2 == 0 ? wren : bram, CROOK, true));
    }
    ExecutorService threads = Executors.newFixedThreadPool(4);
    List<Future<Response>> answers = new ArrayList<>();
    List<RulingBook> nodes = List.of(node(), node(), node());
    for (Sitting s : asked) {
      RulingBook node = nodes.get(answers.size() % nodes.size());
      answers.add(threads.submit(() -> answer(s, NOVEL, judge(node, s, NOVEL, now), now)));
    }
    Future<Void> ruling =
        threads.submit(
            () -> {
              for (int i = 0; i < 3; i++) {
                book.rule(open, new Decision.AcceptAsTerm(), isolde);
                book.undo(rulingStore.standing().get(0), isolde);
              }
              book.rule(open, new Decision.AcceptAsTerm(), isolde);
              return null;
            });
    ruling.get();
    for (Future<Response> answer : answers) {
      assertEquals("right-synonym", again(answer.get()).now().verdict());
    }
    threads.shutdown();
  }

  @Test
  void ofTwoWhoRuleOnOneAnswerTheSecondChangesNothing() {
    Response answer = answer(wren, CROOK, NOVEL, true);
    OpenAnswer open = onlyOpen();
    long before = rulingStore.made();
    assertTrue(node().rule(open, new Decision.AcceptAsTerm(), isolde).isPresent());
    RuledAnswer first = rulingStore.rulings().get(0);
    assertEquals(
        Optional.empty(),
        rulingStore.undo(first, isolde.id(), now, before, (response, plan) -> response.first()),
        "whoever has not seen the ruling regrades nothing");
    assertTrue(again(answer).now().isRight());
  }

  @Test
  void aRulingOnOnePartLeavesTheSamePhraseForAnotherAsWrongAsItIs() {
    Response crook = answer(wren, CROOK, NOVEL, true);
    Response casing = answer(bram, CASING, NOVEL, true);
    OpenAnswer open = book.open().stream().filter(o -> o.part().equals(CROOK)).findFirst().orElseThrow();
    book.rule(open, new Decision.AcceptAsTerm(), isolde);
    assertTrue(again(crook).now().isRight());
    assertFalse(again(casing).now().isRight());
    assertEquals(Optional.of(CROOK), again(casing).now().takenFor(), "it is a name of the crook now");
  }

  @Test
  void aTermThatNamesAnotherPartIsRefusedWithTheConflictShown() {
    Response other = answer(wren, CROOK, "second slide crook", true);
    store.dispute(other.id(), NOON);
    String conflict = conflict(new Decision.AcceptAsTerm()).orElseThrow();
    assertTrue(conflict.contains("second slide crook"), conflict);
    assertTrue(conflict(new Decision.AcceptAsMisspelling()).isPresent());
    assertEquals(Optional.empty(), conflict(new Decision.AcceptOnce()));
  }

  @Test
  void aTermThatFitsManyPartsIsRefused() {
    Response vague = answer(wren, CROOK, "crook", true);
    store.dispute(vague.id(), NOON);
    assertTrue(conflict(new Decision.AcceptAsTerm()).orElseThrow().contains("ambiguous"));
  }

  @Test
  void thoseAffectedAreToldUntilTheyHaveReadIt() {
    answer(wren, CROOK, NOVEL, true);
    book.rule(onlyOpen(), new Decision.AcceptAsTerm(), isolde);
    Change change = rulingStore.changesFor(wren.id()).get(0);
    assertEquals(0, change.before());
    assertEquals(1, change.now().credit());
    assertEquals(List.of(), rulingStore.changesFor(bram.id()));
    rulingStore.read(bram.id(), change.regrade(), NOON);
    assertEquals(1, rulingStore.changesFor(wren.id()).size(), "nobody reads it for another");
    rulingStore.read(wren.id(), change.regrade(), NOON);
    rulingStore.read(wren.id(), change.regrade(), NOON);
    assertEquals(List.of(), rulingStore.changesFor(wren.id()));
  }

  @Test
  void aRegradeCountsInProgressAndInWhatIsMixedUp() {
    Response answer = answer(wren, CROOK, NOVEL, true);
    assertEquals(0, store.summary(answer.sitting()).orElseThrow().credit());
    book.rule(onlyOpen(), new Decision.AcceptAsTerm(), isolde);
    assertEquals(1, store.summary(answer.sitting()).orElseThrow().credit());
    assertEquals(1, rulingStore.regraded().values().iterator().next());
  }

  @Test
  void thePatchHoldsTheTermsThatStand() {
    answer(wren, CROOK, NOVEL, true);
    book.rule(onlyOpen(), new Decision.AcceptAsTerm(), isolde);
    assertTrue(book.patch().contains("+++ b/curriculum/trumpet/glossary.yaml"));
    assertTrue(book.patch().contains(NOVEL));
    book.undo(rulingStore.rulings().get(0), isolde);
    assertEquals("", book.patch());
  }

  @Test
  void phrasesHaveTheNormalFormOfTheReader() {
    Response answer = answer(wren, CROOK, "  GOOSE-neck. ", true);
    assertEquals(TermReader.normalForm("goose neck"), onlyOpen().phrase());
    assertEquals("GOOSE-neck.", answer.typed().orElseThrow());
  }
}

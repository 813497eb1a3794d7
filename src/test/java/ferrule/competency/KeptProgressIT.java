package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.ledger.LedgerStore;
import ferrule.people.Cohort;
import ferrule.people.NewEvidenceStore;
import ferrule.people.Person;
import ferrule.report.RandomHistory;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.store.jooq.Tables;
import ferrule.web.HandClock;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What is kept of how apprentices stand equals what judging anew yields, whatever happens and whenever it is asked. */
class KeptProgressIT {

  /** A node that keeps, and the same records judged anew each time. */
  private static final class Node {
    private final Competencies anew;
    private final Competencies withKept;
    private final ProgressKeeper keeper;
    private final ProgressStore store;

    Node(RandomHistory history, Clock clock) {
      Database database = history.database();
      LedgerStore ledger = new LedgerStore(database);
      EditionStore editions = new EditionStore(database, ledger);
      EvidenceSource source = new EvidenceSource(
          history.records(), new NamingStore(database), new NameScope(List.of(RandomHistory.TRUMPET), Set::of),
          new HoursStore(database), new EquivalenceStore(database, ledger), RandomHistory.ZONE);
      store = new ProgressStore(database, "c1", RandomHistory.ZONE.getId());
      anew = new Competencies(history.programmes().get(0), editions, source);
      withKept = new Competencies(history.programmes().get(0), editions, source, store);
      keeper = new ProgressKeeper(withKept, source, store, clock);
    }

    void catchUp() {
      for (int i = 0; keeper.round(3) > 0; i++) {
        assertTrue(i < 1_000, "the keeper comes to an end");
      }
    }
  }

  private static List<UUID> everyone(RandomHistory history) {
    return history.apprentices().stream().map(Person::id).toList();
  }

  /** Compares everything that is kept with everything judged anew; returns for how many something kept was used. */
  private static int compare(RandomHistory history, Node node, Instant at) {
    List<UUID> everyone = everyone(history);
    Map<UUID, Progress> anew = node.anew.of(everyone, at);
    assertEquals(anew, node.withKept.of(everyone, at));
    Map<UUID, Progress> later = node.anew.of(everyone, at.plus(ProgressKeeper.AHEAD), anew.get(everyone.get(0)).programme());
    Map<UUID, ProgressStore.Kept> states = node.store.statesHolding(at);
    states.forEach((who, kept) -> {
      Progress progress = anew.get(who);
      if (kept.edition().equals(progress.programme().edition())) {
        assertEquals(letters(progress), kept.states().letters());
        assertEquals(progress.lastWork().map(t -> t.truncatedTo(ChronoUnit.MILLIS)), kept.states().lastWork());
        if (kept.edition().equals(later.get(who).programme().edition())) {
          assertEquals(letters(later.get(who)), kept.states().ahead(), "ahead of " + at);
        }
      }
    });
    return states.size();
  }

  private static String letters(Progress progress) {
    StringBuilder letters = new StringBuilder();
    progress.verdicts().values().forEach(v -> letters.append(State.of(v).letter()));
    return letters.toString();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void equalsJudgingAnewAfterEveryStepAndAtOtherMoments(Database fresh) {
    try (fresh) {
      int[] used = new int[1];
      Random random = new Random(11);
      Node[] node = new Node[1];
      RandomHistory history = RandomHistory.of(fresh, 11, 260, h -> {
        if (node[0] == null) {
          node[0] = new Node(h, h.clock());
        }
        int what = random.nextInt(6);
        if (what == 0) {
          node[0].catchUp();
        } else if (what == 1) {
          List<UUID> some = new ArrayList<>(everyone(h));
          some.removeIf(p -> random.nextBoolean());
          node[0].keeper.judge(some);
        }
        Instant now = h.clock().instant();
        used[0] += compare(h, node[0], now);
        compare(h, node[0], now.minusMillis(1 + random.nextInt(3_000_000)));
        compare(h, node[0], now.plusMillis(1 + (long) (random.nextDouble() * 100 * 86_400_000L)));
      });
      assertTrue(used[0] > 500, "what is kept is used: " + used[0]);
      // time alone passes, over a change of clocks and the ends of months
      node[0].catchUp();
      for (int i = 0; i < 120; i++) {
        history.clock().pass(Duration.ofMinutes(random.nextInt(4_000)));
        used[0] = compare(history, node[0], history.clock().instant());
        if (random.nextBoolean()) {
          node[0].catchUp();
        }
      }
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void ofAnApprenticeInTwoCohortsBothEditionsAreRight(Database fresh) {
    try (fresh) {
      RandomHistory history = RandomHistory.of(fresh, 5, 60);
      Node node = new Node(history, history.clock());
      Person who = history.apprentices().get(0);
      Cohort other = new Cohort(
          UUID.randomUUID(), "Evening class", history.programmes().get(1).edition(), LocalDate.of(2027, 1, 1),
          LocalDate.of(2027, 6, 1));
      history.people().add(other);
      history.people().join(other.id(), who.id(), LocalDate.of(2027, 1, 1), Optional.empty());
      node.catchUp();
      Instant now = history.clock().instant();
      for (Programme programme : history.programmes()) {
        assertEquals(node.anew.of(List.of(who.id()), now, programme), node.withKept.of(List.of(who.id()), now, programme));
      }
      assertEquals(0, node.keeper.round(100), "nobody is judged again and again");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void evidenceAndItsNoteAreKeptBothOrNeither(Database fresh) {
    try (fresh) {
      RandomHistory history = RandomHistory.of(fresh, 7, 40);
      Node node = new Node(history, history.clock());
      node.catchUp();
      UUID who = history.apprentices().get(0).id();
      Instant now = history.clock().instant();
      assertThrows(
          IllegalStateException.class,
          () -> fresh.transact(dsl -> {
            NewEvidenceStore.note(dsl, who, now);
            throw new IllegalStateException("the record was refused");
          }));
      assertEquals(0, fresh.dsl().fetchCount(Tables.NEW_EVIDENCE));
      assertTrue(node.store.statesHolding(now).containsKey(who));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aResultThatCameTooLateDoesNotTakeANewerOnesPlace(Database fresh) {
    try (fresh) {
      RandomHistory history = RandomHistory.of(fresh, 9, 40);
      HandClock clock = history.clock();
      Node node = new Node(history, clock);
      node.catchUp();
      UUID who = history.apprentices().get(0).id();
      ProgressStore.Before seen = node.store.before(List.of(who)).get(who);
      Progress old = node.anew.of(who, clock.instant());
      clock.pass(Duration.ofMinutes(1));
      hours(fresh, history, who, clock.instant());
      node.keeper.judge(List.of(who));
      clock.pass(Duration.ofMinutes(1));
      // the slow node ends last
      node.store.keep(new ProgressStore.Judged(
          who, seen, old, States.of(old, old.verdicts().values()), Instant.parse("9999-01-01T00:00:00Z")));
      compare(history, node, clock.instant());
      hours(fresh, history, who, clock.instant());
      compare(history, node, clock.instant());
    }
  }

  private static void hours(Database database, RandomHistory history, UUID who, Instant at) {
    new HoursStore(database).add(List.of(new BenchHours(
        UUID.randomUUID(), who, LocalDate.ofInstant(at, RandomHistory.ZONE), 90, "", history.instructors().get(0).id(),
        "Invented", at, Optional.empty(), "")));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void severalNodesWhileOthersRecord(Database fresh) throws Exception {
    try (fresh) {
      RandomHistory history = RandomHistory.of(fresh, 13, 80);
      Clock wall = Clock.systemUTC();
      List<Node> nodes = List.of(new Node(history, wall), new Node(history, wall));
      ExecutorService threads = Executors.newFixedThreadPool(5);
      AtomicBoolean over = new AtomicBoolean();
      List<Future<?>> running = new ArrayList<>();
      for (Node node : nodes) {
        running.add(threads.submit(() -> {
          while (!over.get()) {
            node.keeper.judge(everyone(history));
          }
        }));
      }
      List<Future<?>> writing = new ArrayList<>();
      for (int w = 0; w < 3; w++) {
        Random random = new Random(w);
        writing.add(threads.submit(() -> {
          for (int i = 0; i < 120; i++) {
            UUID who = everyone(history).get(random.nextInt(history.apprentices().size()));
            hours(fresh, history, who, wall.instant());
          }
        }));
      }
      for (Future<?> writer : writing) {
        writer.get();
      }
      over.set(true);
      for (Future<?> keeper : running) {
        keeper.get();
      }
      threads.shutdown();
      Instant now = wall.instant();
      for (Node node : nodes) {
        compare(history, node, now);
        node.keeper.judge(everyone(history));
        assertEquals(history.apprentices().size(), compare(history, node, wall.instant()));
      }
    }
  }

  @Test
  void whoWillLeaveIsKeptUntilTheyDo() {
    try (Database fresh = RealDatabases.h2()) {
      RandomHistory history = RandomHistory.of(fresh, 17, 40);
      List<UUID> people = everyone(history);
      Instant now = history.clock().instant();
      LocalDate today = LocalDate.ofInstant(now, RandomHistory.ZONE);
      history.people().leave(people.get(0), today.plusDays(1));
      history.people().leave(people.get(1), today);
      Node node = new Node(history, history.clock());
      assertTrue(node.store.neverJudged(today, 100).contains(people.get(0)));
      assertFalse(node.store.neverJudged(today, 100).contains(people.get(1)));
      node.catchUp();
      assertTrue(node.store.statesHolding(now).containsKey(people.get(0)));
    }
  }

  @Test
  void anotherCurriculumMakesWhatIsKeptUnusable() {
    try (Database fresh = RealDatabases.h2()) {
      RandomHistory history = RandomHistory.of(fresh, 3, 40);
      new Node(history, history.clock()).catchUp();
      assertEquals(
          Map.of(),
          new ProgressStore(fresh, "c2", RandomHistory.ZONE.getId()).statesHolding(history.clock().instant()));
    }
  }
}

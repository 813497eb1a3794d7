package ferrule.report.bundle;

import static ferrule.store.jooq.Tables.LONG_WORK_PIECE;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.bundle.LongWork.State;
import ferrule.store.Database;
import ferrule.web.HandClock;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class LongWorkStoreIT {

  private static final LocalDate DAY = LocalDate.of(2026, 11, 25);

  private final HandClock clock = new HandClock(Instant.parse("2026-11-25T12:00:00Z"));
  private final UUID here = UUID.randomUUID();
  private final UUID there = UUID.randomUUID();

  private static UUID coordinator(Database database, HandClock clock, String name) {
    Person person = new Person(UUID.randomUUID(), name, name, Role.COORDINATOR, Optional.empty());
    new PeopleStore(database, clock).add(person, Optional.empty(), Optional.empty());
    return person.id();
  }

  private UUID ask(LongWorkStore store, UUID by) {
    clock.pass(Duration.ofSeconds(1));
    return store.ask(Optional.empty(), DAY, by).orElseThrow();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void fewRunAtOnceAndNobodyAsksForMany(Database database) {
    LongWorkStore store = new LongWorkStore(database, clock);
    UUID magnus = coordinator(database, clock, "magnus");
    UUID other = coordinator(database, clock, "other");
    List<UUID> asked = List.of(ask(store, magnus), ask(store, magnus), ask(store, other));
    assertEquals(Optional.empty(), store.ask(Optional.empty(), DAY, magnus), "two are open already");
    assertEquals(asked.get(0), store.take(here).orElseThrow().id(), "who waits longest comes first");
    assertEquals(asked.get(1), store.take(there).orElseThrow().id());
    assertEquals(Optional.empty(), store.take(there), "two run, and more may not");
    store.finish(asked.get(0), here, "bundle.zip", 7);
    assertEquals(asked.get(2), store.take(here).orElseThrow().id());
    assertEquals(State.DONE, store.find(asked.get(0)).orElseThrow().state());
    assertTrue(store.ask(Optional.empty(), DAY, magnus).isPresent());
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void twoNodesNeverTakeUpTheSame(Database database) throws Exception {
    ExecutorService nodes = Executors.newFixedThreadPool(4);
    try {
      for (int round = 0; round < 10; round++) {
        LongWorkStore store = new LongWorkStore(database, clock);
        UUID one = ask(store, coordinator(database, clock, "a" + round));
        Callable<Optional<LongWork>> take = () -> store.take(UUID.randomUUID());
        List<Future<Optional<LongWork>>> taken = nodes.invokeAll(List.of(take, take, take, take));
        Set<UUID> got = taken.stream().map(LongWorkStoreIT::get).flatMap(Optional::stream).map(LongWork::id)
            .collect(Collectors.toSet());
        long times = taken.stream().map(LongWorkStoreIT::get).filter(Optional::isPresent).count();
        assertEquals(Set.of(one), got);
        assertEquals(1, times);
        database.dsl().execute("update long_work set state = 'done', slot = null");
      }
    } finally {
      nodes.shutdownNow();
    }
  }

  private static <T> T get(Future<T> future) {
    try {
      return future.get();
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatIsCancelledStopsAtItsNextWordAndNothingStays(Database database) throws IOException {
    LongWorkStore store = new LongWorkStore(database, clock);
    UUID magnus = coordinator(database, clock, "magnus");
    UUID waiting = ask(store, magnus);
    assertTrue(store.cancel(waiting));
    assertEquals(State.CANCELLED, store.find(waiting).orElseThrow().state());
    assertFalse(store.cancel(waiting), "it is not open any more");

    UUID running = ask(store, magnus);
    store.take(here);
    try (LongWorkStore.Pieces pieces = store.pieces(running)) {
      pieces.write(new byte[300_000]);
      assertTrue(store.tell(running, here, "Judging", 3, 10));
      assertEquals(3, store.find(running).orElseThrow().done());
      assertTrue(store.cancel(running));
      assertFalse(store.tell(running, here, "Judging", 4, 10), "the node hears it");
    }
    store.stop(running, here);
    assertEquals(State.CANCELLED, store.find(running).orElseThrow().state());
    assertEquals(0, database.dsl().fetchCount(LONG_WORK_PIECE));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theWorkOfASilentNodeIsTakenUpByAnother(Database database) {
    LongWorkStore store = new LongWorkStore(database, clock);
    UUID id = ask(store, coordinator(database, clock, "magnus"));
    store.take(here);
    store.tidy();
    assertEquals(Optional.empty(), store.take(there), "it is at it");
    clock.pass(LongWorkStore.SILENCE.plusSeconds(1));
    store.tidy();
    assertEquals(id, store.take(there).orElseThrow().id());
    assertFalse(store.tell(id, here, "Judging", 1, 2), "whoever comes back hears that it is not theirs any more");
    store.finish(id, here, "late.zip", 1);
    assertEquals(State.RUNNING, store.find(id).orElseThrow().state());
    store.stop(id, there);
    assertEquals(State.WAITING, store.find(id).orElseThrow().state(), "a node that stops puts it back");
    for (int tries = 0; tries < 3; tries++) {
      store.take(here);
      clock.pass(LongWorkStore.SILENCE.plusSeconds(1));
      store.tidy();
    }
    assertEquals(State.FAILED, store.find(id).orElseThrow().state(), "what breaks every node is not begun for ever");
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatWasMadeIsTheSameAtEveryNodeAndGoesAfterADay(Database database) throws IOException {
    LongWorkStore maker = new LongWorkStore(database, clock);
    UUID id = ask(maker, coordinator(database, clock, "magnus"));
    maker.take(here);
    byte[] made = new byte[1_000_003];
    new Random(7).nextBytes(made);
    try (LongWorkStore.Pieces pieces = maker.pieces(id)) {
      pieces.write(made, 0, 10);
      pieces.write(made[10]);
      pieces.write(made, 11, made.length - 11);
      pieces.close();
      maker.finish(id, here, "bundle.zip", pieces.size());
    }
    LongWorkStore elsewhere = new LongWorkStore(database, clock);
    ByteArrayOutputStream sent = new ByteArrayOutputStream();
    elsewhere.send(id, sent);
    assertArrayEquals(made, sent.toByteArray());
    assertEquals(made.length, elsewhere.find(id).orElseThrow().fileSize());
    clock.pass(LongWorkStore.KEPT.plusSeconds(1));
    elsewhere.tidy();
    assertEquals(State.GONE, elsewhere.find(id).orElseThrow().state());
    assertEquals(0, database.dsl().fetchCount(LONG_WORK_PIECE));
  }
}

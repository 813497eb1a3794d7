package ferrule.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class TurnsTest {

  private static final Duration LONG = Duration.ofSeconds(30);

  private static final Callable<Void> NOTHING = () -> null;

  private final ExecutorService threads = Executors.newCachedThreadPool();
  private final List<String> order = Collections.synchronizedList(new ArrayList<>());

  @AfterEach
  void stop() {
    threads.shutdownNow();
  }

  /** A request that has come, and asks for its first connection when it is let. */
  private final class Request {
    private final CountDownLatch come = new CountDownLatch(1);
    private final CountDownLatch let = new CountDownLatch(1);
    private final Future<Void> answer;

    Request(Turns turns, String name, int asks, Callable<?> whileItHasOne) throws InterruptedException {
      answer = threads.submit(() -> {
        Turns.begin();
        come.countDown();
        let.await();
        for (int ask = 0; ask < asks; ask++) {
          turns.take(LONG);
          order.add(name);
          whileItHasOne.call();
          turns.giveBack();
        }
        Turns.end();
        return null;
      });
      come.await();
    }
  }

  private static void untilWaiting(Turns turns, int many) throws InterruptedException {
    long end = System.nanoTime() + LONG.toNanos();
    while (turns.waiting() != many && System.nanoTime() < end) {
      Thread.sleep(1);
    }
    assertEquals(many, turns.waiting());
  }

  @Test
  void theRequestThatCameFirstIsServedFirstWheneverItAsks() throws Exception {
    Turns turns = new Turns(1);
    turns.take(LONG);
    List<Request> requests = new ArrayList<>();
    for (String name : List.of("first", "second", "third")) {
      requests.add(new Request(turns, name, 1, NOTHING));
    }
    for (int i = 2; i >= 0; i--) {
      requests.get(i).let.countDown();
      untilWaiting(turns, 3 - i);
    }

    turns.giveBack();

    for (Request request : requests) {
      request.answer.get();
    }
    assertEquals(List.of("first", "second", "third"), order);
  }

  @Test
  void whoAsksOftenWaitsBehindTheOthersOnce() throws Exception {
    Turns turns = new Turns(1);
    turns.take(LONG);
    Request report = new Request(turns, "report", 20, NOTHING);
    report.let.countDown();
    untilWaiting(turns, 1);
    AtomicInteger stillWaiting = new AtomicInteger(30);
    List<Request> answers = new ArrayList<>();
    for (int i = 0; i < 30; i++) {
      answers.add(new Request(turns, "answer", 1, () -> {
        // long enough for the report to ask again
        int others = stillWaiting.decrementAndGet();
        while (!report.answer.isDone() && turns.waiting() == others) {
          Thread.sleep(1);
        }
        return null;
      }));
      answers.get(i).let.countDown();
      untilWaiting(turns, i + 2);
    }

    turns.giveBack();

    for (Request answer : answers) {
      answer.answer.get();
    }
    assertEquals(20, Collections.frequency(order, "report"));
    assertEquals(38, order.lastIndexOf("report"), "one answer is served between two of its asks: " + order);
  }

  @Test
  void whatIsNoRequestComesWhenItAsks() throws Exception {
    Turns turns = new Turns(1);
    turns.take(LONG);
    Future<?> background = threads.submit((Callable<Void>) () -> {
      turns.take(LONG);
      order.add("background");
      turns.giveBack();
      return null;
    });
    untilWaiting(turns, 1);
    Request request = new Request(turns, "request", 1, NOTHING);
    request.let.countDown();
    untilWaiting(turns, 2);

    turns.giveBack();

    background.get();
    request.answer.get();
    assertEquals(List.of("background", "request"), order);
  }

  @Test
  void whoWaitedTooLongIsToldSoAndTakesNobodysTurn() throws Exception {
    Turns turns = new Turns(1);
    turns.take(LONG);

    SQLException late = assertThrows(SQLTransientConnectionException.class, () -> turns.take(Duration.ofMillis(20)));

    assertEquals(StoreTrouble.UNREACHABLE, StoreTrouble.of(late).orElseThrow());
    assertEquals(0, turns.waiting());
    turns.giveBack();
    turns.take(Duration.ZERO);
  }

  @Test
  void whoIsInterruptedTakesNobodysTurn() throws Exception {
    Turns turns = new Turns(1);
    turns.take(LONG);
    AtomicInteger stillInterrupted = new AtomicInteger();
    Future<Void> waiting = threads.submit(() -> {
      try {
        turns.take(LONG);
        return null;
      } finally {
        stillInterrupted.set(Thread.currentThread().isInterrupted() ? 1 : 0);
      }
    });
    untilWaiting(turns, 1);
    waiting.cancel(true);
    untilWaiting(turns, 0);

    turns.giveBack();

    turns.take(Duration.ZERO);
    threads.shutdown();
    assertTrue(threads.awaitTermination(30, TimeUnit.SECONDS));
    assertEquals(1, stillInterrupted.get());
  }

  @Test
  void neverAreMoreInUseThanThereAreAndNoneIsLost() throws Exception {
    Turns turns = new Turns(3);
    AtomicInteger inUse = new AtomicInteger();
    AtomicInteger most = new AtomicInteger();
    AtomicInteger late = new AtomicInteger();
    List<Future<Void>> all = new ArrayList<>();
    for (int thread = 0; thread < 20; thread++) {
      Duration patience = thread % 4 == 0 ? Duration.ofNanos(50_000) : LONG;
      all.add(threads.submit(() -> {
        for (int ask = 0; ask < 500; ask++) {
          try {
            turns.take(patience);
          } catch (SQLTransientConnectionException e) {
            late.incrementAndGet();
            continue;
          }
          most.accumulateAndGet(inUse.incrementAndGet(), Math::max);
          Thread.yield();
          inUse.decrementAndGet();
          turns.giveBack();
        }
        return null;
      }));
    }
    for (Future<Void> one : all) {
      one.get();
    }

    assertEquals(3, most.get());
    assertTrue(late.get() > 0, "somebody was to be too late");
    assertEquals(0, turns.waiting());
    for (int i = 0; i < 3; i++) {
      turns.take(Duration.ZERO);
    }
    assertThrows(SQLTransientConnectionException.class, () -> turns.take(Duration.ZERO));
  }
}

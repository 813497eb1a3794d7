package ferrule.upkeep;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.web.Operations;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class NodeWatchTest {

  private static final int CONNECTIONS = 10;

  private final Database database = Database.open(DatabaseUrl.h2Memory("watch-" + UUID.randomUUID()));
  private final SimpleMeterRegistry figures = new SimpleMeterRegistry();
  private final NodeWatch watch = new NodeWatch(Optional::empty, served -> {});
  private final ExecutorService threads = Executors.newCachedThreadPool();
  private final List<String> order = Collections.synchronizedList(new ArrayList<>());

  @AfterEach
  void close() {
    threads.shutdown();
    watch.close();
    database.close();
  }

  /** Keeps a connection until that; returns once it has it. */
  private void hold(CountDownLatch until) throws InterruptedException {
    CountDownLatch held = new CountDownLatch(1);
    threads.submit(() -> database.reading(dsl -> {
      held.countDown();
      return await(until);
    }));
    held.await();
  }

  private static boolean await(CountDownLatch latch) {
    try {
      latch.await();
      return true;
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  private Future<?> request(String name, CountDownLatch let) throws InterruptedException {
    CountDownLatch come = new CountDownLatch(1);
    Future<?> answer = threads.submit(() -> {
      watch.begins();
      come.countDown();
      await(let);
      database.reading(dsl -> order.add(name));
      watch.served(new Operations.Served("id", "GET", "/", 200, Duration.ZERO));
    });
    come.await();
    return answer;
  }

  private void untilWaiting(int many) throws InterruptedException {
    for (int i = 0; i < 10_000 && waiting() != many; i++) {
      Thread.sleep(1);
    }
    assertEquals(many, waiting());
  }

  private int waiting() {
    return (int) figures.get("ferrule.database.waiting").gauge().value();
  }

  @Test
  void whereAllConnectionsAreInUseTheRequestThatCameFirstIsServedFirst() throws Exception {
    database.measuredBy(figures);
    CountDownLatch one = new CountDownLatch(1);
    CountDownLatch others = new CountDownLatch(1);
    hold(one);
    for (int i = 1; i < CONNECTIONS; i++) {
      hold(others);
    }
    List<CountDownLatch> lets = List.of(new CountDownLatch(1), new CountDownLatch(1), new CountDownLatch(1));
    List<Future<?>> requests = new ArrayList<>();
    for (int i = 0; i < lets.size(); i++) {
      requests.add(request("request " + (i + 1), lets.get(i)));
    }
    for (int i = lets.size() - 1; i >= 0; i--) {
      lets.get(i).countDown();
      untilWaiting(lets.size() - i);
    }

    one.countDown();

    for (Future<?> request : requests) {
      request.get();
    }
    others.countDown();
    assertEquals(List.of("request 1", "request 2", "request 3"), order);
    assertEquals(0, waiting());
  }
}

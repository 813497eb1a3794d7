package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.jooq.impl.DSL;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CrewTest {

  @TempDir Path folder;

  @Test
  void whatIsAtWorkIsWaitedForAndNotInterruptedAndTheDatabaseStaysOpen() throws Exception {
    try (Database database = Database.open(DatabaseUrl.h2File(folder, "crew"))) {
      CountDownLatch begun = new CountDownLatch(1);
      AtomicBoolean interrupted = new AtomicBoolean();
      AtomicInteger rows = new AtomicInteger();
      Crew crew = new Crew();
      crew.begin("busy", told -> {
        begun.countDown();
        // in the middle of a stretch it hears nothing, as somebody who asks the database
        while (!told.within(Duration.ZERO)) {
          rows.set(database.dsl().fetchCount(DSL.table("person")));
        }
        for (int i = 0; i < 200; i++) {
          rows.addAndGet(database.dsl().fetchOne("select count(*) from system_range(1, 10000)").get(0, Integer.class));
        }
        interrupted.set(Thread.currentThread().isInterrupted());
        return Duration.ofHours(1);
      });
      begun.await();
      crew.close();
      assertEquals(2_000_000, rows.get(), "the stretch was done to its end before the database may be closed");
      assertFalse(interrupted.get());
      assertEquals(0, database.dsl().fetchCount(DSL.table("person")), "the file is open");
    }
  }

  @Test
  void whoeverRestsIsWokenAndWhoeverDoesNotEndIsLeftBehind() throws Exception {
    CountDownLatch released = new CountDownLatch(1);
    CountDownLatch atWork = new CountDownLatch(2);
    AtomicBoolean ended = new AtomicBoolean();
    Crew crew = new Crew(Duration.ofMillis(100));
    crew.begin("rests", told -> {
      atWork.countDown();
      return Duration.ofDays(1);
    });
    crew.begin("stuck", told -> {
      atWork.countDown();
      try {
        released.await();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      ended.set(true);
      return Duration.ZERO;
    });
    atWork.await();
    crew.close();
    assertFalse(ended.get(), "nobody interrupted it");
    released.countDown();
    assertTrue(Thread.getAllStackTraces().keySet().stream().noneMatch(t -> t.getName().equals("rests")));
  }
}

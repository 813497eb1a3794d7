package ferrule.store;

import static ferrule.store.jooq.Tables.COHORT;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jooq.DSLContext;
import org.jooq.exception.IntegrityConstraintViolationException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class TogetherTest {

  private final Database database = Database.open(DatabaseUrl.h2Memory("together-" + UUID.randomUUID()));
  private final ExecutorService threads = Executors.newCachedThreadPool();

  @AfterEach
  void close() {
    threads.shutdown();
    database.close();
  }

  /** Adds two cohorts, of which the second one's title can be taken, and returns by which transaction. */
  private static Object add(DSLContext dsl, String title) {
    for (String one : List.of("before " + UUID.randomUUID(), title)) {
      dsl.insertInto(COHORT).values(UUID.randomUUID(), one, "e1", LocalDate.EPOCH, LocalDate.EPOCH).execute();
    }
    return dsl.fetchValue("select transaction_id()");
  }

  /** All of these come while somebody else is writing. */
  private List<Future<Object>> comeAtOnce(List<String> titles) throws InterruptedException {
    CountDownLatch writing = new CountDownLatch(1);
    CountDownLatch over = new CountDownLatch(1);
    threads.submit(() -> database.transact(dsl -> {
      writing.countDown();
      await(over);
    }));
    writing.await();
    List<Future<Object>> coming = new ArrayList<>();
    for (String title : titles) {
      coming.add(threads.submit(() -> database.besideOthers(dsl -> add(dsl, title))));
    }
    Thread.sleep(300); // until they wait; if one comes later the claim is only shown of fewer
    over.countDown();
    return coming;
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void whatComesWhileAnotherWritesIsCommittedTogether() throws Exception {
    Set<Object> transactions = new HashSet<>();
    for (Future<Object> one : comeAtOnce(List.of("a", "b", "c", "d", "e", "f", "g", "h", "i", "j"))) {
      transactions.add(one.get());
    }
    assertEquals(20, database.dsl().fetchCount(COHORT));
    assertTrue(transactions.size() < 10, "fewer commits than came: " + transactions);
  }

  @Test
  void oneThatFailsLeavesNothingAndTheOthersAreKept() throws Exception {
    List<Future<Object>> coming = comeAtOnce(List.of("a", "b", "same", "same", "c"));
    int failed = 0;
    for (Future<Object> one : coming) {
      try {
        one.get();
      } catch (ExecutionException e) {
        assertEquals(IntegrityConstraintViolationException.class, e.getCause().getClass());
        failed++;
      }
    }
    assertEquals(1, failed);
    assertEquals(8, database.dsl().fetchCount(COHORT), "of the one that failed its first row is not there either");
  }

  @Test
  void whoComesAloneHearsOfTheirFault() {
    database.besideOthers(dsl -> add(dsl, "same"));
    assertThrows(
        IntegrityConstraintViolationException.class, () -> database.besideOthers(dsl -> add(dsl, "same")));
    assertThrows(AssertionError.class, () -> database.besideOthers(dsl -> {
      throw new AssertionError("an error too");
    }));
    database.besideOthers(dsl -> add(dsl, "another"));
    assertEquals(4, database.dsl().fetchCount(COHORT));
  }
}

package ferrule.app;

import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Does the long work of each site while the server runs, one piece at a time at this node. */
final class LongWorking implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(LongWorking.class);
  private static final Duration EVERY = Duration.ofSeconds(2);

  private final Supplier<List<LongWorker>> workers;
  private final Thread thread;

  LongWorking(Supplier<List<LongWorker>> workers) {
    this.workers = workers;
    this.thread = new Thread(this::work, "long-work");
    thread.setDaemon(true);
    thread.setPriority(Thread.MIN_PRIORITY);
    thread.start();
  }

  private void work() {
    while (!Thread.currentThread().isInterrupted()) {
      for (LongWorker worker : workers.get()) {
        try {
          worker.round();
        } catch (RuntimeException e) {
          LOG.warn("long work was not looked for; it will be tried again", e);
        }
      }
      try {
        Thread.sleep(EVERY.toMillis());
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  @Override
  public void close() {
    thread.interrupt();
    try {
      // it puts back what it was at before the database is closed under it
      thread.join(Duration.ofSeconds(5).toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

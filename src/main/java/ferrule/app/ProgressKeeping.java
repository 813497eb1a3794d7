package ferrule.app;

import ferrule.competency.ProgressKeeper;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Judges apprentices of each site anew in the background while the server runs, so that pages find it done. Of two cores
 * it leaves at least one and a half to whoever waits for a page: after each few it rests as long as they took.
 */
final class ProgressKeeping implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(ProgressKeeping.class);
  private static final Duration EVERY = Duration.ofSeconds(5);
  private static final int AT_A_TIME = 20;

  private final Supplier<List<ProgressKeeper>> keepers;
  private final Thread worker;

  ProgressKeeping(Supplier<List<ProgressKeeper>> keepers) {
    this.keepers = keepers;
    this.worker = new Thread(this::work, "keep-progress");
    worker.setDaemon(true);
    worker.setPriority(Thread.MIN_PRIORITY);
    worker.start();
  }

  private void work() {
    try {
      while (true) {
        long began = System.nanoTime();
        boolean more = round();
        Duration took = Duration.ofNanos(System.nanoTime() - began);
        Thread.sleep((more ? took : EVERY).toMillis());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Whether there is more to do. */
  private boolean round() {
    boolean more = false;
    for (ProgressKeeper keeper : keepers.get()) {
      try {
        more |= keeper.round(AT_A_TIME) == AT_A_TIME;
      } catch (RuntimeException e) {
        if (!worker.isInterrupted()) {
          LOG.warn("progress was not kept; it will be tried again, and pages judge by themselves", e);
        }
      }
    }
    return more;
  }

  @Override
  public void close() {
    worker.interrupt();
    try {
      // its transaction is short: the database is not closed under it
      worker.join(Duration.ofSeconds(5).toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

package ferrule.app;

import ferrule.ledger.HeadStore;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Signs the head of each site's log while the server runs: every hour in which something was added. */
final class HeadKeeping implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(HeadKeeping.class);
  private static final Duration EVERY = Duration.ofHours(1);

  private final Supplier<List<HeadStore>> heads;
  private final ScheduledExecutorService clockwork =
      Executors.newSingleThreadScheduledExecutor(
          work -> {
            Thread thread = new Thread(work, "sign-heads");
            thread.setDaemon(true);
            return thread;
          });

  HeadKeeping(Supplier<List<HeadStore>> heads) {
    this.heads = heads;
    clockwork.scheduleAtFixedRate(this::sign, EVERY.toMinutes(), EVERY.toMinutes(), TimeUnit.MINUTES);
  }

  private void sign() {
    heads.get().forEach(HeadKeeping::sign);
  }

  private static void sign(HeadStore heads) {
    try {
      heads.current();
    } catch (RuntimeException e) {
      LOG.warn("the log's head was not signed; it will be tried again in an hour", e);
    }
  }

  @Override
  public void close() {
    clockwork.shutdownNow();
  }
}

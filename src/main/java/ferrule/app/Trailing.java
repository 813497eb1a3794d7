package ferrule.app;

import ferrule.audit.AuditTrail;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Writes what the trails of the sites have gathered, about once a second and in the end, and removes what is too old. */
final class Trailing implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(Trailing.class);
  private static final Duration EVERY = Duration.ofSeconds(1);

  private final Supplier<List<AuditTrail>> trails;
  private final int days;
  private final Thread thread;
  // not interrupted: that would close the embedded database's file under everyone
  private final CountDownLatch stop = new CountDownLatch(1);

  Trailing(Supplier<List<AuditTrail>> trails, int days) {
    this.trails = trails;
    this.days = days;
    this.thread = new Thread(this::work, "audit-trail");
    thread.setDaemon(true);
    thread.start();
  }

  private void work() {
    try {
      while (!stop.await(EVERY.toMillis(), TimeUnit.MILLISECONDS)) {
        round();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void round() {
    for (AuditTrail trail : trails.get()) {
      try {
        trail.flush();
        trail.tidy(days);
      } catch (RuntimeException e) {
        LOG.warn("who saw what was not written; it will be tried again: {}", e.toString());
      }
    }
  }

  @Override
  public void close() {
    stop.countDown();
    try {
      thread.join(Duration.ofSeconds(5).toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    round();
  }
}

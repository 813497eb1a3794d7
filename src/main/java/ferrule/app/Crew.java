package ferrule.app;

import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What works in the background of a node, each in a thread of its own. All are told to stop at once and waited for
 * together, so that no database is closed under them. None is interrupted: an embedded database closes its file under
 * everyone when a thread that uses it is.
 */
final class Crew implements AutoCloseable {

  /** One of them. It works a stretch, and returns how long it then rests. */
  interface Hand {
    /**
     * @param told waits as long as it is given or until all are told to stop; returns whether they are
     */
    Duration work(LongWorker.Told told);
  }

  /** As long as requests in flight have: within what a stop takes at most. */
  static final Duration STOPS_WITHIN = Duration.ofSeconds(15);

  private static final Logger LOG = LoggerFactory.getLogger(Crew.class);

  private final Duration within;
  private final CountDownLatch stop = new CountDownLatch(1);
  private final List<Thread> threads = new ArrayList<>();
  private Instant toldAt = Instant.MAX;

  /** Nobody yet. */
  Crew() {
    this(STOPS_WITHIN);
  }

  /** Nobody yet; they have so long to stop. */
  Crew(Duration within) {
    this.within = within;
  }

  /**
   * Lets one begin.
   *
   * @param name what it does, in a word or two for the log
   * @param first how long it rests before it begins
   * @param priority of its thread
   */
  void begin(String name, Duration first, int priority, Hand hand) {
    Thread thread = new Thread(() -> work(first, hand), name);
    thread.setDaemon(true);
    thread.setPriority(priority);
    threads.add(thread);
    thread.start();
  }

  /** Lets one begin at once that leaves the machine to whoever waits for a page. */
  void begin(String name, Hand hand) {
    begin(name, Duration.ZERO, Thread.MIN_PRIORITY, hand);
  }

  private void work(Duration first, Hand hand) {
    Duration rest = first;
    while (!told(rest)) {
      rest = hand.work(this::told);
    }
  }

  /** Waits so long, or until all are told to stop; returns whether they are. */
  private boolean told(Duration rest) {
    try {
      return stop.await(rest.toMillis(), TimeUnit.MILLISECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return true;
    }
  }

  /** Tells all to stop, and does not wait for them. */
  void tell() {
    if (stop.getCount() > 0) {
      toldAt = Instant.now();
      stop.countDown();
    }
  }

  @Override
  public void close() {
    tell();
    try {
      for (Thread thread : threads) {
        thread.join(Math.max(1, Duration.between(Instant.now(), toldAt.plus(within)).toMillis()));
        if (thread.isAlive()) {
          LOG.warn("{} is still at work {} s after it was told to stop; what it has not committed is lost", thread.getName(),
              within.toSeconds());
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

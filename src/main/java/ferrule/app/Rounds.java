package ferrule.app;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps something up in the background of each site while the server runs, so that pages find it done. Of two cores it
 * leaves at least one and a half to whoever waits for a page: after each round it rests as long as that took.
 */
final class Rounds implements AutoCloseable {

  /** Does some of what is to do in one site; returns whether there is more. */
  interface Round {
    boolean more();
  }

  private static final Logger LOG = LoggerFactory.getLogger(Rounds.class);
  private static final Duration EVERY = Duration.ofSeconds(5);
  private static final Duration STOPS_WITHIN = Duration.ofSeconds(5);

  private final Supplier<List<Round>> rounds;
  private final CountDownLatch stop = new CountDownLatch(1);
  private final Thread worker;

  /**
   * Begins.
   *
   * @param name what is kept up, in a word or two for the log
   */
  Rounds(String name, Supplier<List<Round>> rounds) {
    this.rounds = rounds;
    this.worker = new Thread(this::work, name);
    worker.setDaemon(true);
    worker.setPriority(Thread.MIN_PRIORITY);
    worker.start();
  }

  private void work() {
    try {
      Duration rest = Duration.ZERO;
      while (!stop.await(rest.toMillis(), TimeUnit.MILLISECONDS)) {
        long began = System.nanoTime();
        boolean more = round();
        rest = more ? Duration.ofNanos(System.nanoTime() - began) : EVERY;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Whether there is more to do. */
  private boolean round() {
    boolean more = false;
    for (Round round : rounds.get()) {
      try {
        more |= stop.getCount() > 0 && round.more();
      } catch (RuntimeException e) {
        LOG.warn("{} was not done; it will be tried again, and pages do without", worker.getName(), e);
      }
    }
    return more;
  }

  @Override
  public void close() {
    // no interrupt: an embedded database closes its file when the thread that reads it is interrupted
    stop.countDown();
    try {
      // a round is short: the database is not closed under it
      worker.join(STOPS_WITHIN.toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

package ferrule.app;

import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps something up in the background of each site while the server runs, so that pages find it done. Of two cores it
 * leaves at least one and a half to whoever waits for a page: after each round it rests as long as that took.
 */
final class Rounds implements Crew.Hand {

  /** Does some of what is to do in one site; returns whether there is more. */
  interface Round {
    boolean more();
  }

  private static final Logger LOG = LoggerFactory.getLogger(Rounds.class);
  private static final Duration EVERY = Duration.ofSeconds(5);

  private final Supplier<List<Round>> rounds;

  /** Over the rounds of the sites that are open. */
  Rounds(Supplier<List<Round>> rounds) {
    this.rounds = rounds;
  }

  @Override
  public Duration work(LongWorker.Told told) {
    long began = System.nanoTime();
    boolean more = false;
    for (Round round : rounds.get()) {
      try {
        more |= !told.within(Duration.ZERO) && round.more();
      } catch (RuntimeException e) {
        LOG.warn("{} was not done; it will be tried again, and pages do without", Thread.currentThread().getName(), e);
      }
    }
    return more ? Duration.ofNanos(System.nanoTime() - began) : EVERY;
  }
}

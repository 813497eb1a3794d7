package ferrule.app;

import ferrule.ledger.HeadStore;
import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Signs the head of each site's log while the server runs: every hour in which something was added. */
final class HeadKeeping implements Crew.Hand {

  /** How often, and how long after the start for the first time. */
  static final Duration EVERY = Duration.ofHours(1);

  private static final Logger LOG = LoggerFactory.getLogger(HeadKeeping.class);

  private final Supplier<List<HeadStore>> heads;

  /** Over the logs of the sites that are open. */
  HeadKeeping(Supplier<List<HeadStore>> heads) {
    this.heads = heads;
  }

  @Override
  public Duration work(LongWorker.Told told) {
    heads.get().forEach(HeadKeeping::sign);
    return EVERY;
  }

  private static void sign(HeadStore heads) {
    try {
      heads.current();
    } catch (RuntimeException e) {
      LOG.warn("the log's head was not signed; it will be tried again in an hour", e);
    }
  }
}

package ferrule.app;

import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Does the long work of each site while the server runs, one piece at a time at this node. */
final class LongWorking implements Crew.Hand {

  private static final Logger LOG = LoggerFactory.getLogger(LongWorking.class);
  private static final Duration EVERY = Duration.ofSeconds(2);

  private final Supplier<List<LongWorker>> workers;

  /** Over the workers of the sites that are open. */
  LongWorking(Supplier<List<LongWorker>> workers) {
    this.workers = workers;
  }

  @Override
  public Duration work(LongWorker.Told told) {
    for (LongWorker worker : workers.get()) {
      try {
        worker.round(told);
      } catch (RuntimeException e) {
        LOG.warn("long work was not looked for; it will be tried again", e);
      }
    }
    return EVERY;
  }
}

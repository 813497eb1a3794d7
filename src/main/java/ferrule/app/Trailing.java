package ferrule.app;

import ferrule.audit.AuditTrail;
import ferrule.report.bundle.LongWorker;
import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Writes what the trails of the sites have gathered, about once a second and in the end, and removes what is too old. */
final class Trailing implements Crew.Hand, AutoCloseable {

  /** How often. */
  static final Duration EVERY = Duration.ofSeconds(1);

  private static final Logger LOG = LoggerFactory.getLogger(Trailing.class);

  private final Supplier<List<AuditTrail>> trails;
  private final int days;

  /**
   * Over the trails of the sites that are open.
   *
   * @param days how long it is kept who saw what
   */
  Trailing(Supplier<List<AuditTrail>> trails, int days) {
    this.trails = trails;
    this.days = days;
  }

  @Override
  public Duration work(LongWorker.Told told) {
    round();
    return EVERY;
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

  /** Writes the rest, when nobody adds any more. */
  @Override
  public void close() {
    round();
  }
}

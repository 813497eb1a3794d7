package ferrule.app;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** A clock that is set by hand, so that the demo's records carry the times of their invented terms. */
final class DemoClock extends Clock {

  private volatile Instant now;

  DemoClock(Instant now) {
    this.now = now;
  }

  /** Sets the time. */
  void set(Instant moment) {
    this.now = moment;
  }

  @Override
  public Instant instant() {
    return now;
  }

  @Override
  public ZoneId getZone() {
    return ZoneOffset.UTC;
  }

  @Override
  public Clock withZone(ZoneId zone) {
    return this;
  }
}

package ferrule.web;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** A clock that a test moves by hand. */
public final class HandClock extends Clock {

  private volatile Instant now;

  /** A clock that stands at this instant. */
  public HandClock(Instant now) {
    this.now = now;
  }

  /** Lets this much time pass. */
  public void pass(Duration time) {
    now = now.plus(time);
  }

  /** Sets it to an instant. */
  public void set(Instant instant) {
    now = instant;
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

package ferrule.bench;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** How instants are shown: in the school's zone. */
final class Moments {

  private final DateTimeFormatter full;
  private final DateTimeFormatter time;

  Moments(ZoneId zone) {
    this.full = DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH).withZone(zone);
    this.time = DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH).withZone(zone);
  }

  /** Such as "25 November 2026, 13:40". */
  String inWords(Instant at) {
    return full.format(at);
  }

  /** Such as "13:40". */
  String timeOf(Instant at) {
    return time.format(at);
  }
}

package ferrule.web;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** Times on pages that are shown before anyone is known. */
final class Moments {

  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm 'UTC'", Locale.ROOT);

  private Moments() {}

  /** Such as "14:05 UTC". */
  static String utc(Instant moment) {
    return TIME.format(moment.atOffset(ZoneOffset.UTC));
  }
}

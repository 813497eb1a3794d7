package ferrule.upkeep;

import ferrule.web.Operations;
import java.time.Duration;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.event.Level;

/** A line in the log for a request: by its route, never its address, which can hold a secret. */
public final class RequestLog {

  /** Which requests get a line. */
  public enum Which {
    /** All but pictures, styles and scripts. */
    ALL,
    /** Those that failed here, and those that took two seconds or more. */
    TROUBLE,
    /** None. */
    NONE
  }

  private static final Logger LOG = LoggerFactory.getLogger("ferrule.requests");
  private static final Duration SLOW = Duration.ofSeconds(2);

  private final Which which;

  /** A log of these requests. */
  public RequestLog(Which which) {
    this.which = which;
  }

  /** Writes the line, if this request gets one. */
  public void tell(Operations.Served request) {
    boolean trouble = request.status() >= 500 || request.took().compareTo(SLOW) >= 0;
    boolean asked = which == Which.ALL && !request.route().isEmpty() && !request.route().startsWith("/health/");
    if (which == Which.NONE || !(trouble || asked)) {
      return;
    }
    LOG.atLevel(trouble ? Level.WARN : Level.INFO)
        .addKeyValue("method", request.method())
        .addKeyValue("route", request.route())
        .addKeyValue("status", request.status())
        .addKeyValue("millis", request.took().toMillis())
        .log("answered");
  }
}

package ferrule.web;

import io.javalin.http.Context;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.regex.Pattern;
import org.slf4j.MDC;

/**
 * Gives each request a name by which its lines in the log are found: the one that a proxy gave it, or one of our own. It
 * goes back to the visitor in the same header.
 */
final class RequestId {

  private static final String HEADER = "X-Request-Id";
  private static final String IN_LOG = "request";
  private static final Pattern HARMLESS = Pattern.compile("[A-Za-z0-9._-]{1,64}");
  private static final SecureRandom RANDOM = new SecureRandom();

  private RequestId() {}

  /** Names the request, on the thread that answers it. */
  static void give(Context ctx) {
    String given = ctx.header(HEADER);
    String id = given != null && HARMLESS.matcher(given).matches() ? given : fresh();
    ctx.attribute(IN_LOG, id);
    ctx.header(HEADER, id);
    MDC.put(IN_LOG, id);
  }

  /** The request's name. */
  static String of(Context ctx) {
    String id = ctx.attribute(IN_LOG);
    return id == null ? "" : id;
  }

  /** Takes the name off this thread. */
  static void forget() {
    MDC.remove(IN_LOG);
  }

  private static String fresh() {
    byte[] bytes = new byte[6];
    RANDOM.nextBytes(bytes);
    return HexFormat.of().formatHex(bytes);
  }
}

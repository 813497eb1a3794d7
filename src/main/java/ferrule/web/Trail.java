package ferrule.web;

import io.javalin.http.Context;
import java.util.Optional;
import java.util.UUID;

/**
 * Who is told of every request that reaches a route of a site, so that it can be said later who saw or changed what.
 */
public interface Trail {

  /** Of what is kept of an address. */
  int LONGEST_ADDRESS = 60;

  /** One that keeps nothing. */
  Trail NONE = new Trail() {};

  /** Told after the gate let a request through and before its handler runs; if it throws, the handler does not run. */
  default void begins(Context ctx, String route) {}

  /** Told when it was answered, also where the gate refused it. */
  default void ended(Context ctx, String route) {}

  /** The address from which a request came: behind a proxy that adds TLS, the one that this proxy saw. */
  static String from(Context ctx) {
    Gate gate = ctx.attribute(Gate.HERE);
    String seen = gate != null && gate.behindTls() ? ctx.header("X-Forwarded-For") : null;
    String last = seen == null ? ctx.ip() : seen.substring(seen.lastIndexOf(',') + 1).strip();
    return last.length() <= LONGEST_ADDRESS ? last : last.substring(0, LONGEST_ADDRESS);
  }

  /** By which a request is found in the server's log. */
  static String request(Context ctx) {
    return RequestId.of(ctx);
  }

  /** The person who came in by this request, or was about to when a code was asked for. */
  static Optional<UUID> cameIn(Context ctx) {
    return Optional.ofNullable(ctx.attribute(Gate.CAME_IN));
  }
}

package ferrule.web;

import java.time.Duration;
import java.util.Optional;

/**
 * What the server asks of the program around it, and tells it, so that somebody can run it: whether requests should come
 * here, what lies behind a fault, and what was served. All of it has a harmless default.
 */
public interface Operations {

  /** A server that nobody watches. */
  Operations UNWATCHED = new Operations() {};

  /**
   * A request that was answered.
   *
   * @param id by which its lines in the log are found; the visitor sees it where something broke
   * @param method such as {@code GET}
   * @param route its pattern, such as {@code /records/{id}}, never the address itself, which can hold a secret; empty if
   *     it leads nowhere
   * @param status the HTTP status
   * @param took from the first byte read to the last one written
   */
  record Served(String id, String method, String route, int status, Duration took) {}

  /** Why no requests should come to this node now, in a few words; empty if they may. */
  default Optional<String> notReady() {
    return Optional.empty();
  }

  /** What every visitor is told while no page can be shown, as while the database is away; empty in general. */
  default Optional<Refusal> closed() {
    return Optional.empty();
  }

  /** What a visitor is told of a fault that does not lie in the program, such as a database that cannot be reached. */
  default Optional<Refusal> explain(Exception fault) {
    return Optional.empty();
  }

  /** Told when a request has come, on the thread that answers it. */
  default void begins() {}

  /** Told after each request, on the thread that answered it. */
  default void served(Served request) {}
}

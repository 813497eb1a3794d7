package ferrule.audit;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * A request, as the trail hears of it.
 *
 * @param at when it came
 * @param route method and pattern, such as {@code GET /record/{id}}
 * @param who is signed in, or just came in by it
 * @param role theirs, in a word; empty if nobody is
 * @param path the parameters in its address
 * @param fields what its form or query holds under the name that the route's meaning asks for
 * @param address from where it came
 * @param request by which it is found in the server's log
 */
public record Happening(
    Instant at, String route, Optional<UUID> who, String role, Map<String, String> path, List<String> fields,
    String address, String request) {

  /** Copies the collections, and puts the replacement character for what no text has and PostgreSQL does not keep. */
  public Happening {
    Map<String, String> kept = new LinkedHashMap<>();
    path.forEach((name, value) -> kept.put(name, keepable(value)));
    path = kept;
    fields = fields.stream().map(Happening::keepable).toList();
  }

  // a request is told of also if it was refused for just that
  private static String keepable(String text) {
    int[] kept = text.codePoints()
        .map(c -> c == 0 || c >= Character.MIN_SURROGATE && c <= Character.MAX_SURROGATE ? '\uFFFD' : c).toArray();
    return new String(kept, 0, kept.length);
  }
}

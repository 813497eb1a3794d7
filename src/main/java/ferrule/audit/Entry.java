package ferrule.audit;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A line of the trail.
 *
 * @param id larger for what was noted later
 * @param kind saw, changed or signed-in
 * @param who by their id; empty where nobody was signed in
 * @param role theirs at that time, in a word
 * @param about the person or the cohort that it was about
 * @param route method and pattern
 * @param thing what the address named
 * @param outcome begun, done, refused or failed
 */
record Entry(
    long id, Instant at, String kind, Optional<UUID> who, String role, Optional<UUID> about, String route, String thing,
    String address, String request, String outcome) {

  /** The same with another end. */
  Entry ending(String how) {
    return new Entry(id, at, kind, who, role, about, route, thing, address, request, how);
  }
}

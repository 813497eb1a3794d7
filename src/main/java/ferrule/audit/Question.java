package ferrule.audit;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * Which lines of the trail are asked for, the latest first.
 *
 * @param about persons or cohorts, of which one is enough; empty for anybody
 * @param by who did it
 * @param notBy who did not
 * @param kinds saw, changed, signed-in; empty for all
 * @param from the first moment
 * @param to the moment before which
 * @param before where the page before ended
 * @param most how many
 */
record Question(
    List<UUID> about, Optional<UUID> by, Optional<UUID> notBy, Set<String> kinds, Instant from, Instant to,
    Optional<Key> before, int most) {

  /** Where a page ends: the next begins after this. */
  record Key(Instant at, long id) {

    @Override
    public String toString() {
      return at + "_" + id;
    }

    /** The key that this text is; empty if it is none. */
    static Optional<Key> parse(String text) {
      try {
        int cut = text.lastIndexOf('_');
        return Optional.of(new Key(Instant.parse(text.substring(0, cut)), Long.parseLong(text.substring(cut + 1))));
      } catch (RuntimeException e) {
        return Optional.empty();
      }
    }
  }

  /** The same after a line. */
  Question after(Entry last) {
    return new Question(about, by, notBy, kinds, from, to, Optional.of(new Key(last.at(), last.id())), most);
  }
}

package ferrule.drill.paper;

import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * One apprentice's paper as it is being entered, or as it was.
 *
 * @param sheet the worksheet
 * @param person whose paper it is
 * @param version its letter
 * @param taps what has been entered so far, by number
 * @param steps how many taps can be undone
 * @param sitting the sitting that it became, once it is entered
 * @param enteredBy by whom
 * @param enteredAt when
 */
public record Script(
    UUID sheet,
    UUID person,
    String version,
    Map<Integer, Tap> taps,
    int steps,
    Optional<UUID> sitting,
    Optional<UUID> enteredBy,
    Optional<Instant> enteredAt) {

  /** Copies the map. */
  public Script {
    taps = Map.copyOf(taps);
  }

  /** Whether it counts: from then on a change is a correction. */
  public boolean isEntered() {
    return sitting.isPresent();
  }
}

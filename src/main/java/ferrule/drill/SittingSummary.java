package ferrule.drill;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * How far a sitting has come.
 *
 * @param id the sitting
 * @param person whose it is
 * @param assignment the assignment that it belongs to; empty for a self-test
 * @param attempt 1 for the first time that the person takes the assignment
 * @param title what it is called
 * @param startedAt when it was started
 * @param length how many items it has
 * @param answered how many of them are answered
 * @param credit the sum of what the answers count now, from 0 to {@code answered}
 * @param lastAnswerAt when the last answer was given, if one was
 */
public record SittingSummary(
    UUID id,
    UUID person,
    Optional<UUID> assignment,
    int attempt,
    String title,
    Instant startedAt,
    int length,
    int answered,
    double credit,
    Optional<Instant> lastAnswerAt) {

  /** Whether every item is answered. */
  public boolean isDone() {
    return answered == length;
  }

  /** The credit as a share of all items, in whole per cent, rounded down so that 100 means every point. */
  public int percent() {
    return (int) Math.floor(100 * credit / length + 1e-9);
  }
}

package ferrule.report.bundle;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * A bundle that somebody asked for.
 *
 * @param cohort whose; the whole programme if empty
 * @param asOf the day at whose end it is to speak
 * @param step what is being done, in words; empty while it waits
 * @param done how much of the step is done
 * @param total how much there is to do in the step; 0 if that is not known
 * @param failure why it failed; empty text if it did not
 * @param fileName of what was made; empty text until then
 * @param fileSize in bytes
 */
public record LongWork(
    UUID id,
    Optional<UUID> cohort,
    LocalDate asOf,
    UUID askedBy,
    Instant askedAt,
    State state,
    String step,
    long done,
    long total,
    boolean cancelAsked,
    Optional<Instant> endedAt,
    String failure,
    String fileName,
    long fileSize) {

  /** Where it stands. */
  public enum State {
    /** For its turn. */
    WAITING,
    /** A node is at it. */
    RUNNING,
    /** It can be fetched. */
    DONE,
    /** It could not be made. */
    FAILED,
    /** Somebody stopped it. */
    CANCELLED,
    /** It was done, and has been removed since. */
    GONE;

    /** The word for it, as it is stored and shown. */
    public String word() {
      return name().toLowerCase(java.util.Locale.ROOT);
    }

    static State parse(String word) {
      return valueOf(word.toUpperCase(java.util.Locale.ROOT));
    }
  }

  /** Whether it waits or runs. */
  public boolean isOpen() {
    return state == State.WAITING || state == State.RUNNING;
  }
}

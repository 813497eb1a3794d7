package ferrule.bench;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * An instrument that apprentices work on.
 *
 * @param id never changes
 * @param tag what is stamped on it or tied to it, such as "T-07", unique
 * @param instrument its kind, such as {@code trumpet}
 * @param description in a few words, such as "student model, lever water keys"
 * @param retiredOn the day it left the bench, if it did
 */
public record LoanInstrument(UUID id, String tag, String instrument, String description, Optional<LocalDate> retiredOn) {

  /** Checks the tag. */
  public LoanInstrument {
    if (tag.isBlank() || tag.length() > 40) {
      throw new IllegalArgumentException("a tag has 1 to 40 characters; given: " + tag);
    }
  }
}

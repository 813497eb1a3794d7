package ferrule.bench;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * Who signed, having proved presence, and when.
 *
 * @param by the signer
 * @param name as it stood then
 * @param at when it entered the log, to the millisecond; it counts from then
 * @param onDevice what belongs to a signature made without a network; empty if it was made at this installation
 */
public record Signature(UUID by, String name, Instant at, Optional<OnDevice> onDevice) {

  /** A signature made at this installation, with presence proved at that moment. */
  public Signature(UUID by, String name, Instant at) {
    this(by, name, at, Optional.empty());
  }
}

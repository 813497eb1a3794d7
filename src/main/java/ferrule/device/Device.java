package ferrule.device;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A browser on which somebody goes on without a network.
 *
 * @param id never changes
 * @param person whose it is while they are signed in there
 * @param verifyKey what the browser signs is checked with it: P-256, as SubjectPublicKeyInfo in base64
 * @param sealKey what the browser seals is sealed to it: the same form
 * @param openedAt when it was made known
 * @param provenAt when its person last proved presence for signing without a network; empty if they never did
 * @param signsUntil until when that holds
 * @param closedAt since when nothing from it is entered any more; empty while it is in use
 */
public record Device(
    UUID id,
    UUID person,
    String verifyKey,
    String sealKey,
    Instant openedAt,
    Optional<Instant> provenAt,
    Optional<Instant> signsUntil,
    Optional<Instant> closedAt) {

  /** How long a proof of presence lets its person sign without a network: a working day. */
  public static final Duration SIGNS_FOR = Duration.ofHours(8);

  /** How much the clocks of a browser and of this machine may differ before a time is not believed. */
  public static final Duration CLOCKS = Duration.ofMinutes(2);

  /**
   * Why a signature of this time cannot be entered, in a sentence; empty if nothing speaks against it. A browser's clock
   * proves nothing by itself: a time is believed only between the proof of presence and the receipt.
   *
   * @param signedAt as the browser says
   * @param receivedAt as this machine says
   */
  public Optional<String> refusal(Instant signedAt, Instant receivedAt) {
    if (closedAt.isPresent()) {
      return Optional.of("This device was given up before it arrived.");
    }
    if (provenAt.isEmpty() || signsUntil.isEmpty()) {
      return Optional.of("You had not proved with your PIN that you take this device along.");
    }
    if (signedAt.isAfter(receivedAt.plus(CLOCKS)) || signedAt.isBefore(openedAt.minus(CLOCKS))) {
      return Optional.of("The device's clock cannot have been right when it was signed.");
    }
    return signedAt.isAfter(signsUntil.get().plus(CLOCKS))
        ? Optional.of("It was signed after the time for which you had taken this device along.") : Optional.empty();
  }
}

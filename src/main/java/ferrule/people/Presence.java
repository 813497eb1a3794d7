package ferrule.people;

import java.time.Instant;

/** The outcome of proving presence by a PIN or a passkey at the moment of signing. */
public sealed interface Presence {

  /** The PIN was right, or the passkey. */
  record Proven() implements Presence {}

  /**
   * The PIN was wrong.
   *
   * @param triesLeft how many more may be wrong before PINs are refused for a while
   */
  record Wrong(int triesLeft) implements Presence {}

  /**
   * No PIN is taken for now.
   *
   * @param until when one is taken again
   */
  record Locked(Instant until) implements Presence {}

  /** The answer of a passkey does not show that this person is there now. */
  record NotByThisKey() implements Presence {}

  /** The person has not set a PIN. */
  record NoPin() implements Presence {}
}

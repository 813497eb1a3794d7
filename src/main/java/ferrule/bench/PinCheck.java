package ferrule.bench;

import ferrule.people.Presence;
import java.util.Optional;

/** What to tell an instructor whose PIN was not taken. */
final class PinCheck {

  private PinCheck() {}

  /** Why nothing is signed, in sentences; empty if presence is proven. */
  static Optional<String> refusal(Presence presence, Moments moments) {
    if (presence instanceof Presence.Proven) {
      return Optional.empty();
    }
    if (presence instanceof Presence.Wrong wrong) {
      String left = wrong.triesLeft() == 1 ? "One more try is left" : wrong.triesLeft() + " more tries are left";
      return Optional.of("That is not your PIN; nothing was signed and the draft is kept. " + left + ".");
    }
    if (presence instanceof Presence.Locked locked) {
      return Optional.of(
          "Too many wrong PINs. None is taken until " + moments.timeOf(locked.until())
              + ". Nothing was signed and the draft is kept.");
    }
    if (presence instanceof Presence.NotByThisKey) {
      return Optional.of("That passkey did not show that you are here, or it took too long. Nothing was signed and the "
          + "draft is kept; try again, or use your PIN.");
    }
    return Optional.of("You have not set a PIN yet. Set one under “Account”, then come back: the draft is kept.");
  }
}

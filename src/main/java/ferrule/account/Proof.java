package ferrule.account;

import ferrule.people.PeopleStore;
import ferrule.people.SignInStore;
import ferrule.people.SignedIn;
import java.util.Optional;

/**
 * That whoever changes an account is its owner, and not somebody at a screen that was left open: the password is asked
 * for again, with the same limit on guesses as for one-time codes.
 */
final class Proof {

  private final PeopleStore people;

  Proof(PeopleStore people) {
    this.people = people;
  }

  /** Why the change is not made, in a sentence; empty if the password is right. */
  Optional<String> refusal(String password, SignedIn session) {
    SignInStore.CodeEntry entry =
        people.signIns().proveAgain(session.person().id(), password == null ? "" : password);
    if (entry instanceof SignInStore.CodeEntry.Right) {
      return Optional.empty();
    }
    if (entry instanceof SignInStore.CodeEntry.Wait) {
      return Optional.of("Too many passwords were wrong. Wait a quarter of an hour and try again.");
    }
    return Optional.of("Your present password is not right.");
  }
}

package ferrule.people;

import java.time.Instant;

/** What came of a try to sign in with a name and a password. */
public sealed interface Entry {

  /**
   * Name and password are right.
   *
   * @param person who it is
   * @param asksForCode whether this person also has one-time codes
   */
  record Right(Person person, boolean asksForCode) implements Entry {}

  /** Name or password is wrong, or the person has left. */
  record Wrong() implements Entry {}

  /**
   * Too much has been guessed: the password was not looked at, and the browser has to work this out first.
   *
   * @param puzzle what to work out
   */
  record WorkFirst(Puzzle puzzle) implements Entry {}

  /**
   * Far too much has been guessed for this name: no new browser is let in by password.
   *
   * @param until when one is again
   */
  record NotFromHere(Instant until) implements Entry {}
}

package ferrule.people;

import java.time.Duration;

/**
 * How fast passwords may be guessed, without ever locking people out because somebody else guesses.
 *
 * <p>Guesses are counted by name, never by address: a whole class comes from one address, and an attacker from many. A
 * browser in which a person has signed in before has a count of its own for that person (OWASP, "Slow down online
 * guessing attacks with device cookies"), so guesses made elsewhere do not touch it. In any other browser a name's
 * first few guesses are free. Then each guess costs the browser a sum to work out ({@link Puzzle}), which somebody who
 * knows their password does once and an attacker for every guess; only after {@value #MOST} guesses that nobody
 * undid are new browsers refused for that name, and a passkey, a shared tablet, an account with the school or the
 * coordinator's link still lead in.
 *
 * <p>The count leaks: it is one instant, that at which it will be empty (as in the generic cell rate algorithm, ITU-T
 * I.371), and each guess moves it on by {@link #LEAK}.
 */
public final class SignInPace {

  /** One guess is forgotten in this time. */
  public static final Duration LEAK = Duration.ofMinutes(5);
  /** So many guesses for one name are free. */
  public static final int FREE = 5;
  /** So many guesses for all names together are free: a class of thirty may mistype twice each. */
  public static final int FREE_FOR_ALL = 60;
  /** Beyond so many, new browsers are refused for that name. */
  public static final int MOST = 1_000;
  /** So many guesses in a row in a browser that the person has used; then it counts as any other. */
  public static final int KNOWN_BROWSER = 10;
  /** So many one-time codes after a right password. */
  public static final int CODES = 10;

  private static final int EASIEST = 17;
  private static final int HARDEST = 21;

  private SignInPace() {}

  /**
   * How hard a sum the next guess costs.
   *
   * @param forName the guesses counted for this name
   * @param forAll the guesses counted for all names
   * @return the bits that must be zero, so that about 2 to their power is tried; 0 if the guess is free
   */
  static int bits(long forName, long forAll) {
    if (forName >= FREE) {
      int doublings = 63 - Long.numberOfLeadingZeros(forName / FREE);
      return Math.min(HARDEST, EASIEST + 1 + doublings);
    }
    return forAll >= FREE_FOR_ALL ? EASIEST : 0;
  }
}

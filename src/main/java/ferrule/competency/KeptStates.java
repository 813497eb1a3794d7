package ferrule.competency;

import java.time.Instant;
import java.util.Optional;

/**
 * The least of how an apprentice stands: a letter for each competency. Ten thousand of these are counted for one page.
 *
 * @param edition of the programme, in whose order the letters are
 * @param states a letter for each competency now
 * @param ahead the same as they will be {@link ProgressKeeper#AHEAD} later if nothing is done
 * @param lastWork when work of theirs was signed last
 */
record KeptStates(String edition, String states, String ahead, Optional<Instant> lastWork) {

  /** Checks that there are as many letters ahead as now. */
  KeptStates {
    if (states.length() != ahead.length()) {
      throw new IllegalArgumentException(states.length() + " states now and " + ahead.length() + " ahead");
    }
  }
}

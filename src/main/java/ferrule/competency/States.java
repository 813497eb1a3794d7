package ferrule.competency;

import java.time.Instant;
import java.util.Collection;
import java.util.Optional;

/**
 * The least of how an apprentice stands: a letter for each competency, in the order of the edition that they are judged
 * by. Ten thousand of these are counted for one page.
 *
 * @param letters how they stand at the moment
 * @param ahead how they will stand {@link ProgressKeeper#AHEAD} later if nothing is done
 * @param lastWork when work of theirs was signed last, whatever came of it
 */
public record States(String letters, String ahead, Optional<Instant> lastWork) {

  /** Checks that there are as many letters ahead as at the moment. */
  public States {
    if (letters.length() != ahead.length()) {
      throw new IllegalArgumentException(letters.length() + " states at the moment and " + ahead.length() + " ahead");
    }
  }

  /** The states of somebody who stands so, and will stand so if nothing is done. */
  static States of(Progress progress, Collection<Verdict> ahead) {
    return new States(letters(progress.verdicts().values()), letters(ahead), progress.lastWork());
  }

  private static String letters(Collection<Verdict> verdicts) {
    StringBuilder letters = new StringBuilder(verdicts.size());
    verdicts.forEach(verdict -> letters.append(State.of(verdict).letter()));
    return letters.toString();
  }

  /** How they stand in a competency, given by its place in the edition. */
  public State state(int competency) {
    return State.of(letters.charAt(competency));
  }

  /** Whether a competency is complete at the moment and will not be later. */
  public boolean isLapsing(int competency) {
    return letters.charAt(competency) == State.COMPLETE.letter() && ahead.charAt(competency) != State.COMPLETE.letter();
  }

  /** How many competencies are complete. */
  public int complete() {
    char letter = State.COMPLETE.letter();
    int complete = 0;
    for (int i = 0; i < letters.length(); i++) {
      complete += letters.charAt(i) == letter ? 1 : 0;
    }
    return complete;
  }
}

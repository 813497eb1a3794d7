package ferrule.competency;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * Somebody's time in a cohort.
 *
 * @param cohort which
 * @param joinedOn the first day
 * @param leftOn the day on which they left, if they did
 */
public record Stay(UUID cohort, LocalDate joinedOn, Optional<LocalDate> leftOn) {

  /** Whether it was over on a day. */
  public boolean isOver(LocalDate day) {
    return leftOn.filter(left -> !left.isAfter(day)).isPresent();
  }

  /** Whether somebody is judged on a day by this stay, which began later, and not by an earlier one. */
  boolean countsBefore(Stay earlier, LocalDate day) {
    return !joinedOn.isAfter(day) && (earlier.isOver(day) || !isOver(day));
  }
}

package ferrule.people;

import java.time.LocalDate;
import java.util.Optional;

/**
 * Somebody who is or was in a cohort.
 *
 * @param person who
 * @param joinedOn their first day in it
 * @param leftOn the day on which they left it, or the programme, if they did: they are not there any more on that day
 */
public record Member(Person person, LocalDate joinedOn, Optional<LocalDate> leftOn) {

  /** Whether they had joined by a day. */
  public boolean hasJoined(LocalDate day) {
    return !joinedOn.isAfter(day);
  }

  /** Whether they had left by a day. */
  public boolean hasLeft(LocalDate day) {
    return leftOn.filter(left -> !left.isAfter(day)).isPresent();
  }
}

package ferrule.people;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * That a person is or was in a cohort.
 *
 * @param person who
 * @param role of that person
 * @param from the first day
 * @param until the day on which they left the cohort or the programme, whichever came first, if they did
 */
public record Membership(UUID person, Role role, LocalDate from, Optional<LocalDate> until) {

  /** Whether they were in the cohort at the end of a day. */
  public boolean holdsOn(LocalDate day) {
    return !from.isAfter(day) && until.filter(left -> !left.isAfter(day)).isEmpty();
  }
}

package ferrule.people;

import java.time.LocalDate;
import java.util.UUID;

/**
 * A group that learns together, pinned to one edition of the curriculum.
 *
 * @param id never changes
 * @param title such as "First year, evening", unique
 * @param edition the curriculum edition that its members are judged by
 * @param startsOn first day of its programme
 * @param endsOn last planned day, not before the first
 */
public record Cohort(UUID id, String title, String edition, LocalDate startsOn, LocalDate endsOn) {

  /** Checks the order of the days. */
  public Cohort {
    if (endsOn.isBefore(startsOn)) {
      throw new IllegalArgumentException("cohort " + title + " ends " + endsOn + ", before it starts " + startsOn);
    }
  }
}

package ferrule.drill;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * A drill that an instructor has set for a cohort or for some of it.
 *
 * @param id never changes
 * @param cohort whose apprentices are to take it
 * @param chosen those of the cohort who are to take it; empty for the whole cohort, whoever joins it
 * @param setBy the instructor
 * @param title as it stands in both homes, 1 to {@value #LONGEST_TITLE} characters
 * @param plan what it asks
 * @param conditions when, how often and how long it can be taken
 * @param setAt when it was set
 * @param withdrawnAt when it was taken back, if it was
 */
public record Assignment(
    UUID id,
    UUID cohort,
    Set<UUID> chosen,
    UUID setBy,
    String title,
    Plan plan,
    Conditions conditions,
    Instant setAt,
    Optional<Instant> withdrawnAt) {

  /** The most characters that a title may have. */
  public static final int LONGEST_TITLE = 120;

  /** Copies the set and checks the title. */
  public Assignment {
    chosen = Set.copyOf(chosen);
    if (title.isBlank() || title.length() > LONGEST_TITLE) {
      throw new IllegalArgumentException("a title has 1 to " + LONGEST_TITLE + " characters; given: " + title);
    }
  }

  /** The last day on which it is on time. */
  public LocalDate dueOn() {
    return conditions.dueOn();
  }

  /** Whether somebody of its cohort is to take it. */
  public boolean isFor(UUID member) {
    return chosen.isEmpty() || chosen.contains(member);
  }
}

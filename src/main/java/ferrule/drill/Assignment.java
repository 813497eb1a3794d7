package ferrule.drill;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * A drill that an instructor has set for a cohort.
 *
 * @param id never changes
 * @param cohort who is to take it
 * @param setBy the instructor
 * @param title as it stands in both homes, 1 to {@value #LONGEST_TITLE} characters
 * @param plan what it asks
 * @param dueOn the last day on which it is on time, in the school's zone
 * @param setAt when it was set
 * @param withdrawnAt when it was taken back, if it was
 */
public record Assignment(
    UUID id,
    UUID cohort,
    UUID setBy,
    String title,
    Plan plan,
    LocalDate dueOn,
    Instant setAt,
    Optional<Instant> withdrawnAt) {

  /** The most characters that a title may have. */
  public static final int LONGEST_TITLE = 120;

  /** Checks the title. */
  public Assignment {
    if (title.isBlank() || title.length() > LONGEST_TITLE) {
      throw new IllegalArgumentException("a title has 1 to " + LONGEST_TITLE + " characters; given: " + title);
    }
  }
}

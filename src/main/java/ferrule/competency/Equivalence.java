package ferrule.competency;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * Prior learning that stands in for a competency: an instructor or coordinator looked at it and granted it.
 *
 * @param id names the grant for ever
 * @param apprentice to whom
 * @param competency id of the competency that it stands in for
 * @param reason what was seen
 * @param grantedBy by whom
 * @param grantedByName as it stood then
 * @param grantedAt when
 * @param until the last day on which it counts, if it ends
 */
public record Equivalence(
    UUID id,
    UUID apprentice,
    String competency,
    String reason,
    UUID grantedBy,
    String grantedByName,
    Instant grantedAt,
    Optional<LocalDate> until) {

  /** Checks that a reason is given and that nobody grants it to themselves. */
  public Equivalence {
    if (reason.isBlank() || competency.isBlank()) {
      throw new IllegalArgumentException("an equivalence names its competency and its reason");
    }
    if (apprentice.equals(grantedBy)) {
      throw new IllegalArgumentException("nobody grants themselves an equivalence");
    }
  }
}

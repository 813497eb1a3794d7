package ferrule.competency;

import java.time.Instant;
import java.util.UUID;

/**
 * That a cohort is judged by another edition of the programme from a moment on.
 *
 * @param id names the move for ever
 * @param cohort which is moved
 * @param edition by which it is judged from then on
 * @param reason why
 * @param movedBy the coordinator who decided it
 * @param movedByName as it stands now
 * @param movedAt when
 */
public record Move(
    UUID id, UUID cohort, String edition, String reason, UUID movedBy, String movedByName, Instant movedAt) {

  /** Checks that a reason is given. */
  public Move {
    if (reason.isBlank()) {
      throw new IllegalArgumentException("a cohort is moved for a reason");
    }
  }
}

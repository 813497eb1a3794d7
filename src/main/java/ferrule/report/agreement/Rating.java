package ferrule.report.agreement;

import java.util.UUID;

/**
 * What one grader chose for one criterion of one piece of work.
 *
 * @param work the piece of work
 * @param criterion what was looked at, unique within the task, such as "water-key-cork-or-pad/seat"
 * @param grader who chose
 * @param level from 0
 * @param levels how many there are, at least 2
 */
public record Rating(UUID work, String criterion, UUID grader, int level, int levels) {

  /** Checks the range. */
  public Rating {
    if (levels < 2 || level < 0 || level >= levels) {
      throw new IllegalArgumentException("given level " + level + " of " + levels);
    }
  }
}

package ferrule.bench;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A grade that is not signed yet: kept while the instructor works on it, at the bench and later.
 *
 * @param id never changes
 * @param instructor whose draft it is
 * @param apprentice whose work is graded
 * @param task what was done
 * @param tag of the instrument
 * @param entries what has been entered so far
 * @param corrects the record that it is to correct; empty for a first grade
 * @param group the drafts that are worked on side by side; empty for one by itself
 * @param blindOf the sign-off whose work is graded once more without seeing its grade; empty for any other
 * @param openedAt when it was begun
 * @param updatedAt when something was last entered
 * @param signedRecord the record that it became; empty while it is open
 */
public record Draft(
    UUID id,
    UUID instructor,
    UUID apprentice,
    TaskId task,
    String tag,
    Entries entries,
    Optional<UUID> corrects,
    Optional<UUID> group,
    Optional<UUID> blindOf,
    Instant openedAt,
    Instant updatedAt,
    Optional<UUID> signedRecord) {}

package ferrule.bench;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * An apprentice's word that a piece of work is ready to be checked.
 *
 * @param id never changes
 * @param apprentice who did the work
 * @param apprenticeName of that person
 * @param task what was done
 * @param tag of the instrument
 * @param askedAt when; the queue is in this order
 * @param takenBy the name of the instructor who is grading it; empty while it waits
 */
public record CheckRequest(
    UUID id,
    UUID apprentice,
    String apprenticeName,
    TaskId task,
    String tag,
    Instant askedAt,
    Optional<String> takenBy) {}

package ferrule.bench;

import java.time.Instant;
import java.util.UUID;

/**
 * What one grader found for one criterion of a piece of work that several graded, each without seeing another's grade.
 *
 * @param work the sign-off of the work: the same for all who graded it
 * @param task what was done
 * @param grader whose finding it is
 * @param graderName as it stood then
 * @param first whether this is the grader who signed the work
 * @param at when it was graded
 * @param finding the level chosen or the verdict on a reading, with the criterion's own words
 */
public record BlindGrade(
    UUID work, TaskId task, UUID grader, String graderName, boolean first, Instant at, Finding finding) {}

package ferrule.bench;

import java.time.Instant;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/**
 * A piece of work as it counts after every correction and withdrawal: the evidence that competencies rest on. Work whose
 * task asks for a second signature counts from that on.
 *
 * @param record the record that counts: the sign-off or its latest correction
 * @param number of that record in the log
 * @param apprentice who did the work
 * @param task what was done
 * @param tag of the instrument
 * @param instructor who looked at the work and signed first, also where somebody else corrected the grade
 * @param instructorName as it stood then
 * @param gradedAt when it was signed first
 * @param standing how it stands now
 */
public record SignedWork(
    UUID record,
    long number,
    UUID apprentice,
    TaskId task,
    String tag,
    UUID instructor,
    String instructorName,
    Instant gradedAt,
    Standing standing) {

  /** The work that counts after these entries, which are in the order of the log, in the order of first signing. */
  public static List<SignedWork> after(List<LoggedRecord> entries) {
    // by the record that counts; a correction takes the place of what it corrects, a withdrawal empties it
    Map<UUID, SignedWork> counting = new LinkedHashMap<>();
    Set<UUID> waiting = new HashSet<>();
    for (LoggedRecord entry : entries) {
      BenchRecord record = entry.record();
      SignedWork earlier = record.supersedes().map(counting::remove).orElse(null);
      record.grade().ifPresent(grade -> counting.put(record.id(), of(entry, record, grade, earlier)));
      record.grade().filter(Grade::secondSignature).ifPresent(grade -> waiting.add(record.id()));
      if (record instanceof BenchRecord.SecondSignature second) {
        waiting.remove(second.seconds());
      }
    }
    return counting.values().stream()
        .filter(work -> !waiting.contains(work.record()))
        .sorted(java.util.Comparator.comparing(SignedWork::gradedAt).thenComparing(SignedWork::number))
        .toList();
  }

  private static SignedWork of(LoggedRecord entry, BenchRecord record, Grade grade, SignedWork earlier) {
    Signature signature = record.signature();
    return new SignedWork(
        record.id(), entry.number(), grade.apprentice(), grade.task(), grade.tag(),
        earlier == null ? signature.by() : earlier.instructor,
        earlier == null ? signature.name() : earlier.instructorName,
        earlier == null ? signature.at() : earlier.gradedAt,
        grade.outcome().standing());
  }
}

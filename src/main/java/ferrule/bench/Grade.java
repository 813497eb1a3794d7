package ferrule.bench;

import ferrule.procedure.Caution;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * The grade of one piece of work: what an instructor puts their name to.
 *
 * @param apprentice who did the work
 * @param apprenticeName as it stood then
 * @param task what was done
 * @param taskTitle as it stood then
 * @param instrument the kind of instrument, such as {@code trumpet}
 * @param tag of the very instrument that was worked on
 * @param cautions titles of the cautions that were confirmed before grading
 * @param findings one for each criterion
 * @param note free words; may be empty
 * @param photos pictures of the work
 * @param secondSignature whether the work counts only when another instructor has signed too
 * @param outcome how the work stands, and why
 */
public record Grade(
    UUID apprentice,
    String apprenticeName,
    TaskId task,
    String taskTitle,
    String instrument,
    String tag,
    List<String> cautions,
    List<Finding> findings,
    String note,
    List<GradePhoto> photos,
    boolean secondSignature,
    Outcome outcome) {

  /** Copies the lists and checks that nothing is blank that a record cannot do without. */
  public Grade {
    cautions = List.copyOf(cautions);
    findings = List.copyOf(findings);
    photos = List.copyOf(photos);
    if (tag.isBlank() || findings.isEmpty() || cautions.isEmpty()) {
      throw new IllegalArgumentException(
          "a grade names the instrument by its tag, the cautions confirmed, and what was found");
    }
  }

  /** The grade of a task without pictures, with its outcome worked out. */
  public static Grade of(UUID apprentice, String apprenticeName, Task task, String tag, Entries entries) {
    return of(apprentice, apprenticeName, task, tag, entries, List.of());
  }

  /**
   * The grade of a task, with its outcome worked out. Work that does not meet the standard asks for no second
   * signature.
   *
   * @throws IllegalStateException if a criterion has no finding yet or the cautions are not confirmed
   */
  public static Grade of(
      UUID apprentice, String apprenticeName, Task task, String tag, Entries entries, List<GradePhoto> photos) {
    Grading grading = Grading.of(task, entries);
    if (!grading.isComplete() || !entries.cautionsConfirmed()) {
      throw new IllegalStateException("the grade of " + task.id() + " is not complete");
    }
    List<Finding> findings = grading.findings();
    Outcome outcome = Outcome.of(findings, task.passPercent());
    return new Grade(
        apprentice, apprenticeName, task.id(), task.title(), task.instrument(), tag,
        task.cautions().stream().map(Caution::title).toList(), findings, entries.note(), photos,
        task.secondSignature() && outcome.standing().meets(), outcome);
  }

  /**
   * What would have to be entered to arrive at this grade: where its correction starts from. Criteria that the task
   * has no more are left out.
   */
  Entries asEntries(Task now) {
    Set<String> ids = now.criteria().stream().map(Criterion::id).collect(Collectors.toSet());
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> lowers = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Finding finding : findings) {
      if (finding instanceof Finding.Rated rated && ids.contains(rated.criterion())) {
        levels.put(rated.criterion(), rated.level());
      } else if (finding instanceof Finding.Measured measured && ids.contains(measured.criterion())) {
        readings.put(measured.criterion(), measured.reading().toString());
        Limits limits = measured.limits();
        if (limits.source().equals(Limits.BY_INSTRUCTOR)) {
          limits.lower().ifPresent(l -> lowers.put(measured.criterion(), l.toPlainString()));
          limits.upper().ifPresent(u -> uppers.put(measured.criterion(), u.toPlainString()));
        }
      }
    }
    return new Entries(true, levels, readings, lowers, uppers, note, "");
  }
}

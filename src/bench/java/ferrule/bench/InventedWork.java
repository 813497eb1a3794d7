package ferrule.bench;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;

/**
 * Signed work of invented tasks: each is one of the curriculum's under another name, with its criteria, so that its
 * records are as long as real ones.
 */
public final class InventedWork {

  /** How many tasks there are. */
  public static final int TASKS = 60;
  /** Of so many tasks one asks for a second signature. */
  public static final int SECOND_OF = 12;

  private final String edition;
  private final List<Task> tasks = new ArrayList<>();
  // by task, then by standing
  private final List<List<Grade>> grades = new ArrayList<>();
  private final List<List<Entries>> entries = new ArrayList<>();

  /** The tasks of the curriculum, multiplied. */
  public InventedWork() {
    TaskBook book = TaskReader.readBook(Curriculum.bundled(), new Problems());
    edition = book.edition();
    List<Task> real = book.all().stream().filter(t -> t.criteria().stream().anyMatch(Criterion.Rated.class::isInstance))
        .toList();
    for (int i = 0; i < TASKS; i++) {
      Task task = real.get(i % real.size());
      tasks.add(task);
      List<Grade> byStanding = new ArrayList<>();
      List<Entries> typed = new ArrayList<>();
      for (Standing standing : Standing.values()) {
        Entries e = entries(task, standing);
        Grade grade = Grade.of(new UUID(0, 0), "nobody", task, "T-00", e);
        typed.add(e);
        byStanding.add(grade);
      }
      grades.add(byStanding);
      entries.add(typed);
    }
  }

  private static Entries entries(Task task, Standing standing) {
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> lowers = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Criterion c : task.criteria()) {
      if (c instanceof Criterion.Rated rated) {
        levels.put(c.id(), switch (standing) {
          case NOT_YET -> 1;
          case SOUND -> rated.passLevel();
          case FINE -> rated.levels().size();
        });
      } else if (c instanceof Criterion.Measured m) {
        if (m.limits().isPresent()) {
          Limits limits = m.limits().get();
          readings.put(c.id(), limits.lower().map(l -> limits.upper().map(u -> u.add(l).divide(new java.math.BigDecimal(2))).orElse(l.add(l)))
              .orElseGet(() -> limits.upper().orElseThrow().divide(new java.math.BigDecimal(2))).toPlainString());
        } else {
          readings.put(c.id(), "5");
          lowers.put(c.id(), "1");
          uppers.put(c.id(), "90");
        }
      }
    }
    return new Entries(true, levels, readings, lowers, uppers, "Nipple dressed lightly.", "");
  }

  /** The stable name of a task. */
  public static TaskId id(int task) {
    return TaskId.of("invented-task-" + task);
  }

  /** The title of a task. */
  public static String title(int task) {
    return "Invented task " + task;
  }

  private Grade grade(int task, Standing standing, UUID apprentice, String name, String tag) {
    Grade g = grades.get(task).get(standing.ordinal());
    boolean second = task % SECOND_OF == 0 && g.outcome().standing().meets();
    return new Grade(
        apprentice, name, id(task), title(task), g.instrument(), tag, g.cautions(), g.findings(), g.note(), List.of(),
        second, g.outcome());
  }

  /** What was entered for a grade, as a draft keeps it. */
  public String entries(int task, Standing standing) {
    return entries.get(task).get(standing.ordinal()).toJson();
  }

  /** A grade as it is kept where somebody graded blind. */
  public String gradeJson(int task, Standing standing, UUID apprentice, String name, String tag) {
    return RecordJson.write(grade(task, standing, apprentice, name, tag));
  }

  /** Whether a grade of this task that aims at this standing waits for a second signature. */
  public boolean asksForSecond(int task, Standing standing) {
    return task % SECOND_OF == 0 && grades.get(task).get(standing.ordinal()).outcome().standing().meets();
  }

  /** A sign-off, or a correction where it corrects a record. */
  public ObjectNode signed(
      UUID id, UUID draft, Optional<UUID> corrects, int task, Standing standing, UUID apprentice, String name, String tag,
      UUID by, String byName, Instant at) {
    Grade grade = grade(task, standing, apprentice, name, tag);
    Signature signature = new Signature(by, byName, at);
    return RecordJson.write(corrects.<BenchRecord>map(
            target -> new BenchRecord.Correction(id, target, draft, "Looked at again.", grade, signature, edition))
        .orElseGet(() -> new BenchRecord.SignOff(id, draft, grade, signature, edition)));
  }

  /** The withdrawal of a record. */
  public ObjectNode withdrawn(UUID id, UUID target, UUID apprentice, String name, UUID by, String byName, Instant at) {
    return RecordJson.write(new BenchRecord.Withdrawal(
        id, target, "It was not theirs.", apprentice, name, new Signature(by, byName, at), edition));
  }

  /** The second signature under a record. */
  public ObjectNode seconded(UUID id, UUID target, UUID apprentice, String name, UUID by, String byName, Instant at) {
    return RecordJson.write(new BenchRecord.SecondSignature(
        id, target, apprentice, name, new Signature(by, byName, at), edition));
  }
}

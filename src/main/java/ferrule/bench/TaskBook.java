package ferrule.bench;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The tasks of one edition of the curriculum. Immutable. */
public final class TaskBook {

  private final String edition;
  private final String restsWith;
  private final Map<TaskId, Task> tasks = new LinkedHashMap<>();

  /**
   * A book of these tasks.
   *
   * @param edition of the curriculum
   * @param restsWith who decides before the tasks' cautions do
   * @throws IllegalArgumentException if an id stands twice
   */
  public TaskBook(String edition, String restsWith, List<Task> tasks) {
    this.edition = edition;
    this.restsWith = restsWith;
    for (Task task : tasks) {
      if (this.tasks.put(task.id(), task) != null) {
        throw new IllegalArgumentException("task id " + task.id() + " stands twice");
      }
    }
  }

  /** The edition of the curriculum. */
  public String edition() {
    return edition;
  }

  /** Who decides before the cautions do. */
  public String restsWith() {
    return restsWith;
  }

  /** The tasks, in the order of their files. */
  public List<Task> all() {
    return List.copyOf(tasks.values());
  }

  /** The task with this id, if there is one. */
  public Optional<Task> find(TaskId id) {
    return Optional.ofNullable(tasks.get(id));
  }
}

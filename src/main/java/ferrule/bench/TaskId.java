package ferrule.bench;

import java.util.regex.Pattern;

/**
 * The stable name of a task, such as {@code slide-fit-and-alignment}. Ids are never reused for another task.
 *
 * @param value lower-case letters, digits and single hyphens, starting with a letter; 1 to 80 characters
 */
public record TaskId(String value) implements Comparable<TaskId> {

  private static final Pattern SHAPE = Pattern.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*");

  /** Checks the shape. */
  public TaskId {
    if (value.length() > 80 || !SHAPE.matcher(value).matches()) {
      throw new IllegalArgumentException(
          "a task id is lower-case words joined by hyphens, at most 80 characters; given: " + value);
    }
  }

  /** The id with this text; throws {@link IllegalArgumentException} if the text is not of an id's shape. */
  public static TaskId of(String value) {
    return new TaskId(value);
  }

  @Override
  public int compareTo(TaskId other) {
    return value.compareTo(other.value);
  }

  @Override
  public String toString() {
    return value;
  }
}

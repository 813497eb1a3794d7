package ferrule.curriculum;

import java.util.Comparator;

/**
 * One fault in a file of the curriculum.
 *
 * @param at where it stands
 * @param message what is wrong and what was expected, in one sentence without a full stop
 */
public record Problem(Position at, String message) implements Comparable<Problem> {

  private static final Comparator<Problem> ORDER =
      Comparator.comparing(Problem::at).thenComparing(Problem::message);

  @Override
  public int compareTo(Problem other) {
    return ORDER.compare(this, other);
  }

  /** The problem as compilers print one: {@code file:line:column: message}. */
  @Override
  public String toString() {
    return at + ": " + message;
  }
}

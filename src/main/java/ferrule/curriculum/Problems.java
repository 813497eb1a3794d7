package ferrule.curriculum;

import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;

/** Collects the faults of one run over the curriculum. The same fault found twice counts once. Not thread-safe. */
public final class Problems {

  private final SortedSet<Problem> found = new TreeSet<>();

  /** Adds a fault. */
  public void add(Position at, String message) {
    found.add(new Problem(at, message));
  }

  /** Every fault so far, by file, line and column. */
  public List<Problem> all() {
    return List.copyOf(found);
  }

  /** Whether nothing was found. */
  public boolean isEmpty() {
    return found.isEmpty();
  }
}

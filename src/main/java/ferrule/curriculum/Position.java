package ferrule.curriculum;

import java.util.Comparator;

/**
 * A place in a file of the curriculum, such as {@code trumpet/glossary.yaml:12:5}.
 *
 * @param file the path below the curriculum's folder, with forward slashes
 * @param line counted from 1
 * @param column counted from 1, in characters (code points)
 */
public record Position(String file, int line, int column) implements Comparable<Position> {

  private static final Comparator<Position> ORDER =
      Comparator.comparing(Position::file).thenComparingInt(Position::line).thenComparingInt(Position::column);

  /** Checks that line and column are counted from 1. */
  public Position {
    if (line < 1 || column < 1) {
      throw new IllegalArgumentException("line and column are counted from 1; given " + line + " and " + column);
    }
  }

  @Override
  public int compareTo(Position other) {
    return ORDER.compare(this, other);
  }

  @Override
  public String toString() {
    return file + ":" + line + ":" + column;
  }
}

package ferrule.drawing.label;

import java.util.ArrayList;
import java.util.List;

/**
 * Breaks a text at its spaces so that the widest line is as narrow as it can be. Each line more is tried at every word,
 * on top of the best breaks of the words before it: the time grows with the square of the number of words.
 */
final class LineBreak {

  private static final double SPACE = TextWidth.ofLine(" ");

  private final List<String> words;
  /** The width of the words before each word, each with its space. */
  private final double[] before;

  private LineBreak(List<String> words) {
    this.words = words;
    this.before = new double[words.size() + 1];
    for (int i = 0; i < words.size(); i++) {
      before[i + 1] = before[i] + TextWidth.ofLine(words.get(i)) + SPACE;
    }
  }

  /**
   * The lines of a text.
   *
   * @param most the number of lines that it may take, at least 1; a text with fewer words takes fewer
   */
  static List<String> into(String text, int most) {
    List<String> words = List.of(text.strip().split("\\s+"));
    return new LineBreak(words).lines(Math.min(most, words.size()));
  }

  private List<String> lines(int count) {
    int n = words.size();
    double[] widest = new double[n + 1];
    for (int end = 1; end <= n; end++) {
      widest[end] = width(0, end);
    }
    int[][] breakAt = new int[count + 1][n + 1];
    for (int line = 2; line <= count; line++) {
      double[] better = new double[n + 1];
      for (int end = 1; end <= n; end++) {
        better[end] = Double.POSITIVE_INFINITY;
        for (int start = line - 1; start < end; start++) {
          double width = Math.max(widest[start], width(start, end));
          if (width < better[end]) {
            better[end] = width;
            breakAt[line][end] = start;
          }
        }
      }
      widest = better;
    }
    return cut(breakAt, count);
  }

  private List<String> cut(int[][] breakAt, int count) {
    List<String> lines = new ArrayList<>();
    int end = words.size();
    for (int line = count; line >= 1; line--) {
      int start = line == 1 ? 0 : breakAt[line][end];
      lines.add(0, String.join(" ", words.subList(start, end)));
      end = start;
    }
    return lines;
  }

  private double width(int from, int to) {
    return before[to] - before[from] - SPACE;
  }
}

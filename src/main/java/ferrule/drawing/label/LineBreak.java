package ferrule.drawing.label;

import java.util.ArrayList;
import java.util.List;

/** Breaks a text at its spaces so that the widest line is as narrow as it can be. */
final class LineBreak {

  private LineBreak() {}

  /**
   * The lines of a text.
   *
   * @param most the number of lines that it may take, at least 1; a text with fewer words takes fewer
   */
  static List<String> into(String text, int most) {
    return narrowest(List.of(text.strip().split("\\s+")), most);
  }

  private static List<String> narrowest(List<String> words, int most) {
    List<String> best = List.of(String.join(" ", words));
    if (most == 1) {
      return best;
    }
    for (int first = 1; first < words.size(); first++) {
      List<String> lines = new ArrayList<>();
      lines.add(String.join(" ", words.subList(0, first)));
      lines.addAll(narrowest(words.subList(first, words.size()), most - 1));
      if (widest(lines) < widest(best)) {
        best = lines;
      }
    }
    return best;
  }

  private static double widest(List<String> lines) {
    return lines.stream().mapToDouble(TextWidth::ofLine).max().orElse(0);
  }
}

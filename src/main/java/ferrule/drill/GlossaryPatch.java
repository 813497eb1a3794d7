package ferrule.drill;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/**
 * Writes rulings into the text of a glossary file, as a patch in the unified format that {@code git apply} and
 * {@code patch -p1} take. The rest of the file, comments too, stays as it is.
 *
 * <p>A term goes into the part's list {@code alternative} or {@code hidden}; the list is made, after the preferred term,
 * where the part has none.
 */
final class GlossaryPatch {

  private static final int CONTEXT = 3;

  private final List<String> before;
  private final TreeMap<Integer, List<String>> changed = new TreeMap<>();

  private GlossaryPatch(String text) {
    this.before = List.of(text.split("\n", -1));
  }

  /**
   * The patch that adds what these rulings teach.
   *
   * @param path the file's path in the project, with {@code /}
   * @param text the file's text
   * @param rulings those that teach; of a part that the file does not have, or of a term that it has, nothing is written
   */
  static String of(String path, String text, List<RuledAnswer> rulings) {
    GlossaryPatch patch = new GlossaryPatch(text);
    rulings.forEach(patch::add);
    return patch.write(path);
  }

  private void add(RuledAnswer ruling) {
    int start = before.indexOf("  - id: " + ruling.part());
    if (start < 0) {
      return;
    }
    int end = start + 1;
    while (end < before.size() && !before.get(end).startsWith("  - ")) {
      end++;
    }
    String term = scalar(ruling.phrase());
    switch (ruling.decision()) {
      case TERM -> insert(start, end, "alternative", term);
      default -> insert(start, end, "hidden", "{term: " + term + ", as: " + ruling.decision().word() + "}");
    }
  }

  // digits alone, "no", and the like are not text in YAML unless quoted
  private static String scalar(String phrase) {
    return phrase.matches("[a-z]+( [a-z]+)+") ? phrase : "\"" + phrase + "\"";
  }

  private void insert(int start, int end, String key, String entry) {
    for (int i = start; i < end; i++) {
      if (line(i).startsWith("    " + key + ": [")) {
        append(i, end, entry);
        return;
      }
    }
    for (int i = start; i < end; i++) {
      if (before.get(i).startsWith("    term: ")) {
        after(i, "    " + key + ": [" + entry + "]");
        return;
      }
    }
  }

  /** A line with what was put into it so far; a list that was put after it is looked up too. */
  private String line(int i) {
    return changed.getOrDefault(i, List.of(before.get(i))).get(0);
  }

  private void append(int from, int end, String entry) {
    int depth = 0;
    for (int i = from; i < end; i++) {
      String line = line(i);
      for (int c = i == from ? line.indexOf('[') : 0; c < line.length(); c++) {
        depth += line.charAt(c) == '[' ? 1 : line.charAt(c) == ']' ? -1 : 0;
        if (depth == 0) {
          replace(i, line.substring(0, c) + ", " + entry + line.substring(c));
          return;
        }
      }
    }
  }

  private void replace(int i, String line) {
    List<String> lines = new ArrayList<>(changed.getOrDefault(i, List.of(before.get(i))));
    lines.set(0, line);
    changed.put(i, lines);
  }

  private void after(int i, String line) {
    List<String> lines = new ArrayList<>(changed.getOrDefault(i, List.of(before.get(i))));
    String key = line.substring(0, line.indexOf('['));
    for (int n = 1; n < lines.size(); n++) {
      if (lines.get(n).startsWith(key)) {
        String entry = line.substring(line.indexOf('[') + 1, line.length() - 1);
        lines.set(n, lines.get(n).substring(0, lines.get(n).length() - 1) + ", " + entry + "]");
        changed.put(i, lines);
        return;
      }
    }
    lines.add(line);
    changed.put(i, lines);
  }

  private String write(String path) {
    if (changed.isEmpty()) {
      return "";
    }
    StringBuilder out = new StringBuilder("--- a/" + path + "\n+++ b/" + path + "\n");
    int shift = 0;
    List<Integer> lines = new ArrayList<>(changed.keySet());
    for (int i = 0; i < lines.size(); ) {
      int j = i;
      while (j + 1 < lines.size() && lines.get(j + 1) - lines.get(j) <= 2 * CONTEXT) {
        j++;
      }
      shift += hunk(out, lines.get(i), lines.get(j), shift);
      i = j + 1;
    }
    return out.toString();
  }

  /** Writes one hunk and returns how many lines it adds. */
  private int hunk(StringBuilder out, int first, int last, int shift) {
    int from = Math.max(0, first - CONTEXT);
    // what follows the last line break is no line
    int to = Math.min(before.size() - (before.get(before.size() - 1).isEmpty() ? 2 : 1), last + CONTEXT);
    StringBuilder body = new StringBuilder();
    int added = 0;
    for (int i = from; i <= to; i++) {
      List<String> now = changed.get(i);
      if (now == null) {
        body.append(' ').append(before.get(i)).append('\n');
        continue;
      }
      boolean kept = now.get(0).equals(before.get(i));
      body.append(kept ? ' ' : '-').append(before.get(i)).append('\n');
      now.subList(kept ? 1 : 0, now.size()).forEach(line -> body.append('+').append(line).append('\n'));
      added += now.size() - 1;
    }
    int length = to - from + 1;
    out.append(
        "@@ -" + (from + 1) + "," + length + " +" + (from + 1 + shift) + "," + (length + added) + " @@\n" + body);
    return added;
  }
}

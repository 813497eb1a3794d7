package ferrule.naming;

import ferrule.glossary.ConceptId;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * Accepted answers as a change to the glossary's file: a unified diff that a maintainer reads, applies and signs for.
 *
 * <p>Only the lines of the concepts concerned change: a term is put at the end of the concept's {@code alternative} or
 * {@code hidden} list, or in a new list after its {@code term}. The file is taken as text, so that its comments and its
 * line breaks stay.
 */
public final class GlossaryPatch {

  private static final int CONTEXT = 3;
  private static final String INDENT = "    ";

  private final List<String> lines;
  private final TreeMap<Integer, String> changed = new TreeMap<>();
  private final TreeMap<Integer, List<String>> inserted = new TreeMap<>();

  private GlossaryPatch(String text) {
    this.lines = new ArrayList<>(Arrays.asList(text.split("\n", -1)));
    if (lines.get(lines.size() - 1).isEmpty()) {
      lines.remove(lines.size() - 1);
    }
  }

  /**
   * The change that makes terms of the accepted phrases; rejections and rulings for once change nothing.
   *
   * @param text the glossary's file
   * @throws IllegalArgumentException if the file has no concept of a ruling's part
   */
  public static GlossaryPatch of(String text, Collection<Ruling> rulings) {
    GlossaryPatch patch = new GlossaryPatch(text);
    for (Ruling ruling : rulings) {
      Rulings.roleOf(ruling).ifPresent(role -> patch.add(ruling, role));
    }
    return patch;
  }

  private void add(Ruling ruling, TermRole role) {
    int start = startOf(ruling.part());
    String list = role == TermRole.ALTERNATIVE ? "alternative" : "hidden";
    String phrase = needsQuotes(ruling.phrase()) ? '"' + ruling.phrase() + '"' : ruling.phrase();
    String as = role == TermRole.COLLOQUIAL ? "colloquial" : "misspelling";
    String item = role == TermRole.ALTERNATIVE ? phrase : "{term: " + phrase + ", as: " + as + "}";
    int open = keyLine(start, list);
    if (open >= 0) {
      appendTo(open, item);
    } else {
      insertAfterTerm(start, list, item);
    }
  }

  private int startOf(ConceptId part) {
    for (int i = 0; i < lines.size(); i++) {
      if (lines.get(i).strip().equals("- id: " + part)) {
        return i;
      }
    }
    throw new IllegalArgumentException("the glossary's file has no concept " + part);
  }

  private int keyLine(int start, String key) {
    for (int i = start + 1; i < lines.size() && !lines.get(i).strip().startsWith("- id:"); i++) {
      if (lines.get(i).startsWith(INDENT + key + ":")) {
        return i;
      }
    }
    return -1;
  }

  /** Puts an item before the bracket that closes the list which opens in a line. */
  private void appendTo(int open, String item) {
    int depth = 0;
    for (int i = open; i < lines.size(); i++) {
      String line = changed.getOrDefault(i, lines.get(i));
      for (int at = 0; at < line.length(); at++) {
        depth += line.charAt(at) == '[' ? 1 : line.charAt(at) == ']' ? -1 : 0;
        if (line.charAt(at) == ']' && depth == 0) {
          changed.put(i, line.substring(0, at) + ", " + item + line.substring(at));
          return;
        }
      }
    }
    throw new IllegalArgumentException("line " + (open + 1) + " of the glossary's file opens a list that does not close");
  }

  private void insertAfterTerm(int start, String list, String item) {
    int term = keyLine(start, "term");
    List<String> after = inserted.computeIfAbsent(term, k -> new ArrayList<>());
    String opening = INDENT + list + ": [";
    for (int i = 0; i < after.size(); i++) {
      if (after.get(i).startsWith(opening)) {
        after.set(i, after.get(i).substring(0, after.get(i).length() - 1) + ", " + item + "]");
        return;
      }
    }
    after.add(list.equals("alternative") ? 0 : after.size(), opening + item + "]");
  }

  /** Whether YAML would read the words as something else than text. */
  private static boolean needsQuotes(String phrase) {
    return phrase.matches("[0-9.]+|true|false|yes|no|on|off|null|y|n") || !phrase.matches("[\\p{L}\\p{N} ]+");
  }

  /** Whether there is nothing to change. */
  public boolean isEmpty() {
    return changed.isEmpty() && inserted.isEmpty();
  }

  /** The file's text after the change. */
  public String patched() {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < lines.size(); i++) {
      text.append(changed.getOrDefault(i, lines.get(i))).append('\n');
      inserted.getOrDefault(i, List.of()).forEach(line -> text.append(line).append('\n'));
    }
    return text.toString();
  }

  /**
   * The change as a unified diff; empty if there is none.
   *
   * @param path the file's path in the repository, such as {@code curriculum/trumpet/glossary.yaml}
   */
  public String diff(String path) {
    if (isEmpty()) {
      return "";
    }
    StringBuilder diff = new StringBuilder("--- a/" + path + "\n+++ b/" + path + "\n");
    TreeSet<Integer> touched = new TreeSet<>(changed.keySet());
    touched.addAll(inserted.keySet());
    int added = 0;
    while (!touched.isEmpty()) {
      int first = touched.pollFirst();
      int last = first;
      while (!touched.isEmpty() && touched.first() - last <= 2 * CONTEXT) {
        last = touched.pollFirst();
      }
      added += hunk(Math.max(0, first - CONTEXT), Math.min(lines.size() - 1, last + CONTEXT), added, diff);
    }
    return diff.toString();
  }

  private int hunk(int from, int to, int addedBefore, StringBuilder diff) {
    StringBuilder body = new StringBuilder();
    int added = 0;
    for (int i = from; i <= to; i++) {
      if (changed.containsKey(i)) {
        body.append('-').append(lines.get(i)).append("\n+").append(changed.get(i)).append('\n');
      } else {
        body.append(' ').append(lines.get(i)).append('\n');
      }
      for (String line : inserted.getOrDefault(i, List.of())) {
        body.append('+').append(line).append('\n');
        added++;
      }
    }
    int length = to - from + 1;
    diff.append("@@ -").append(from + 1).append(',').append(length).append(" +").append(from + 1 + addedBefore)
        .append(',').append(length + added).append(" @@\n").append(body);
    return added;
  }
}

package ferrule.curriculum;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Compose;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.nodes.Tag;

/**
 * Parses one file of YAML into nodes with positions.
 *
 * <p>A parser stops at the first thing it cannot read. So that one slip does not hide every other fault of a long
 * file, the item of the top-level list in which it stands is blanked out, line for line so that positions stay true,
 * and the rest is parsed again, until the file can be read or blanking no longer helps.
 */
final class YamlParser {

  private static final int MOST_BLANKED = 12;
  private static final Pattern ID = Pattern.compile("\\bid:\\s*[\"']?([A-Za-z0-9_-]+)");
  private static final Pattern ITEM = Pattern.compile("^( *)- .*");

  private final String file;
  private final Problems problems;
  private final Set<String> lostIds = new LinkedHashSet<>();

  YamlParser(String file, Problems problems) {
    this.file = file;
    this.problems = problems;
  }

  /** The root of the text; empty if nothing of it can be read. */
  Optional<SoundPart> parse(String text) {
    String[] lines = text.split("\n", -1);
    for (int blanked = 0; ; blanked++) {
      try {
        Optional<Node> root = compose(lines);
        if (root.isEmpty()) {
          problems.add(new Position(file, 1, 1), "the file is empty; expected a mapping");
        }
        return root.map(node -> new SoundPart(convert(node), lostIds));
      } catch (YamlEngineException e) {
        report(e);
        if (blanked == MOST_BLANKED || !(e instanceof MarkedYamlEngineException marked) || !blank(lines, marked)) {
          return Optional.empty();
        }
      }
    }
  }

  private Optional<Node> compose(String[] lines) {
    LoadSettings settings = LoadSettings.builder().setLabel(file).setUseMarks(true).build();
    return new Compose(settings).composeString(String.join("\n", lines));
  }

  private void report(YamlEngineException e) {
    if (e instanceof MarkedYamlEngineException marked && marked.getProblemMark().isPresent()) {
      String context = marked.getContext() == null ? "" : marked.getContext() + ", ";
      String begun = marked.getContextMark()
          .filter(m -> m.getLine() != marked.getProblemMark().get().getLine())
          .map(m -> " (begun at line " + (m.getLine() + 1) + ")")
          .orElse("");
      problems.add(position(marked.getProblemMark()), "not YAML: " + context + marked.getProblem().trim() + begun);
    } else {
      problems.add(new Position(file, 1, 1), "not YAML: " + firstLine(e.getMessage()));
    }
  }

  private static String firstLine(String message) {
    return message == null ? "" : message.lines().findFirst().orElse("");
  }

  /** Blanks the top-level item that holds the fault; false if there is none whose blanking moves the fault on. */
  private boolean blank(String[] lines, MarkedYamlEngineException fault) {
    int at = fault.getProblemMark().map(Mark::getLine).orElse(0);
    int begun = fault.getContextMark().map(Mark::getLine).orElse(at);
    for (int line : new int[] {begun, at, at - 1}) {
      Optional<int[]> item = itemAround(lines, line);
      if (item.isPresent() && movesOn(lines, item.get(), at)) {
        int[] span = item.get();
        for (int i = span[0]; i < span[1]; i++) {
          Matcher id = ID.matcher(lines[i]);
          while (id.find()) {
            lostIds.add(id.group(1));
          }
          lines[i] = "";
        }
        return true;
      }
    }
    return false;
  }

  private boolean movesOn(String[] lines, int[] span, int faultLine) {
    String[] without = lines.clone();
    Arrays.fill(without, span[0], span[1], "");
    try {
      compose(without);
      return true;
    } catch (MarkedYamlEngineException e) {
      return e.getProblemMark().map(Mark::getLine).orElse(0) > faultLine;
    } catch (YamlEngineException e) {
      return false;
    }
  }

  /** First line and line after the last of the item of a top-level list around a line. */
  private static Optional<int[]> itemAround(String[] lines, int line) {
    int key = Math.min(Math.max(line, 0), lines.length - 1);
    while (key >= 0 && !(startsText(lines[key]) && indent(lines[key]) == 0 && !ITEM.matcher(lines[key]).matches())) {
      key--;
    }
    int first = key + 1;
    while (first < lines.length && !startsText(lines[first])) {
      first++;
    }
    if (first > line || first >= lines.length || !ITEM.matcher(lines[first]).matches()) {
      return Optional.empty();
    }
    int indent = indent(lines[first]);
    int start = line;
    while (!(ITEM.matcher(lines[start]).matches() && indent(lines[start]) == indent)) {
      start--;
    }
    int end = start + 1;
    while (end < lines.length && !(startsText(lines[end]) && indent(lines[end]) <= indent)) {
      end++;
    }
    return Optional.of(new int[] {start, end});
  }

  private static boolean startsText(String line) {
    return !line.isBlank() && line.stripLeading().charAt(0) != '#';
  }

  private static int indent(String line) {
    return line.length() - line.stripLeading().length();
  }

  private YamlNode convert(Node node) {
    Position at = position(node.getStartMark());
    if (node.isRecursive()) {
      problems.add(at, "this piece contains itself; expected a tree");
      return new YamlNode(at, new YamlNode.Scalar("", YamlNode.ScalarType.NOTHING));
    }
    if (node instanceof MappingNode mapping) {
      return new YamlNode(at, new YamlNode.Mapping(entries(mapping)));
    }
    if (node instanceof SequenceNode sequence) {
      List<YamlNode> items = new ArrayList<>();
      sequence.getValue().forEach(item -> items.add(convert(item)));
      return new YamlNode(at, new YamlNode.Sequence(items));
    }
    ScalarNode scalar = (ScalarNode) node;
    return new YamlNode(at, new YamlNode.Scalar(scalar.getValue(), type(scalar)));
  }

  private Map<String, YamlNode.Entry> entries(MappingNode mapping) {
    Map<String, YamlNode.Entry> entries = new LinkedHashMap<>();
    for (NodeTuple tuple : mapping.getValue()) {
      Position keyAt = position(tuple.getKeyNode().getStartMark());
      if (!(tuple.getKeyNode() instanceof ScalarNode key)) {
        problems.add(keyAt, "expected a word as the key");
        continue;
      }
      YamlNode.Entry earlier = entries.get(key.getValue());
      if (earlier != null) {
        problems.add(keyAt, "key '" + key.getValue() + "' stands twice in this mapping, first at line "
            + earlier.keyAt().line() + "; expected it once");
        continue;
      }
      entries.put(key.getValue(), new YamlNode.Entry(keyAt, convert(tuple.getValueNode())));
    }
    return entries;
  }

  private static YamlNode.ScalarType type(ScalarNode scalar) {
    Tag tag = scalar.getTag();
    if (tag.equals(Tag.NULL)) {
      return YamlNode.ScalarType.NOTHING;
    }
    if (tag.equals(Tag.BOOL)) {
      return YamlNode.ScalarType.FLAG;
    }
    // .inf and .nan are numbers to YAML and to nobody who measures a trumpet
    boolean finite = !scalar.getValue().contains("inf") && !scalar.getValue().contains("nan");
    boolean numeric = tag.equals(Tag.INT) || tag.equals(Tag.FLOAT);
    return numeric && finite ? YamlNode.ScalarType.NUMBER : YamlNode.ScalarType.TEXT;
  }

  private Position position(Optional<Mark> mark) {
    return mark.map(m -> new Position(file, m.getLine() + 1, m.getColumn() + 1))
        .orElseGet(() -> new Position(file, 1, 1));
  }
}

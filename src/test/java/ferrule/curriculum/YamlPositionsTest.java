package ferrule.curriculum;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** Whatever a file looks like between its pieces, a node stands where its text stands. */
class YamlPositionsTest {

  /** One item of a list, as somebody may have laid it out. */
  private record Layout(List<String> above, int gap, String style, String word) {}

  @Provide
  Arbitrary<List<Layout>> files() {
    Arbitrary<List<String>> above =
        Arbitraries.of("", "# a remark", "      # one that is indented", "# {not: yaml").list().ofMaxSize(3);
    Arbitrary<String> words = Arbitraries.of("felt", "\"quoted: felt\"", "'it''s'", "pâté", "🎺 felt", "3.5", "true");
    return Combinators.combine(above, Arbitraries.integers().between(1, 6),
        Arbitraries.of("block", "flow"), words).as(Layout::new).list().ofMinSize(1).ofMaxSize(12);
  }

  @Property(tries = 300)
  void everyKeyAndValueStandsWhereItIsWritten(@ForAll("files") List<Layout> layouts) {
    StringBuilder text = new StringBuilder("items:\n");
    List<Position> keys = new ArrayList<>();
    List<Position> values = new ArrayList<>();
    int line = 1;
    for (Layout layout : layouts) {
      for (String remark : layout.above()) {
        text.append(remark).append('\n');
        line++;
      }
      line++;
      boolean flow = layout.style().equals("flow");
      String lead = flow ? "  - {tag: \"🎺\", " : "  - ";
      int column = lead.codePointCount(0, lead.length()) + 1;
      keys.add(new Position("f.yaml", line, column));
      values.add(new Position("f.yaml", line, column + "word:".length() + layout.gap()));
      text.append(lead).append("word:").append(" ".repeat(layout.gap())).append(layout.word());
      text.append(flow ? "}\n" : "\n");
    }
    Problems problems = new Problems();
    YamlNode root = new YamlParser("f.yaml", problems).parse(text.toString()).orElseThrow().root();
    assertTrue(problems.isEmpty(), problems.all().toString());
    List<YamlNode> items = root.list("items");
    assertEquals(keys, items.stream().map(item -> item.keyAt("word")).toList());
    assertEquals(values, items.stream().map(item -> item.get("word").orElseThrow().at()).toList());
  }

  @Property(tries = 200)
  void aBrokenItemIsReportedInItsPlaceAndTheOthersAreKept(
      @ForAll("files") List<Layout> layouts, @ForAll("breaks") String broken) {
    StringBuilder text = new StringBuilder("items:\n");
    int line = 1;
    int half = layouts.size() / 2;
    int brokenLine = 0;
    for (int i = 0; i < layouts.size(); i++) {
      for (String remark : layouts.get(i).above()) {
        text.append(remark).append('\n');
        line++;
      }
      text.append("  - word: ").append(layouts.get(i).word()).append("\n    other: plain\n");
      line += 2;
      if (i == half) {
        brokenLine = line + 1;
        text.append("  - id: lost\n    word: ").append(broken).append("\n    other: plain\n");
        line += 3;
      }
    }
    Problems problems = new Problems();
    SoundPart part = new YamlParser("f.yaml", problems).parse(text.toString()).orElseThrow();
    assertEquals(1, problems.all().size(), problems.all() + "\n" + text);
    int reported = problems.all().get(0).at().line();
    assertTrue(reported >= brokenLine && reported <= brokenLine + 2, reported + " is far from " + brokenLine);
    assertEquals(layouts.size(), part.root().list("items").size());
    assertTrue(part.lostIds().contains("lost"));
  }

  @Provide
  Arbitrary<String> breaks() {
    return Arbitraries.of("[felt", "{felt", "\"felt\" and cork", "felt: cork", "@felt", "&", "!<felt", "%felt", "`felt`");
  }
}

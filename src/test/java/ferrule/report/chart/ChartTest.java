package ferrule.report.chart;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

class ChartTest {

  private static Element parsed(String svg) {
    try {
      return DocumentBuilderFactory.newInstance().newDocumentBuilder()
          .parse(new ByteArrayInputStream(svg.getBytes(StandardCharsets.UTF_8))).getDocumentElement();
    } catch (Exception e) {
      throw new AssertionError(svg, e);
    }
  }

  private static LineChart randomChart(SplittableRandom random) {
    List<LineChart.Line> lines = new ArrayList<>();
    for (int l = 0; l < 1 + random.nextInt(6); l++) {
      List<LineChart.Point> points = IntStream.range(0, 36 + random.nextInt(5))
          .mapToObj(x -> LineChart.Point.of(x, random.nextDouble(), random.nextBoolean())).toList();
      lines.add(new LineChart.Line("Evening <" + l + "> & co", Look.of(l), points, random.nextBoolean()));
    }
    Axis weeks = new Axis("week", 0, 40, List.of(1.0, 4.0, 13.0), v -> "" + Math.round(v));
    return new LineChart("Says \"this\"", weeks, Axis.shares("complete"), lines);
  }

  @Test
  void chartsAreWellFormedAndCarryNoStyleNorScript() {
    for (long seed = 0; seed < 30; seed++) {
      String html = randomChart(new SplittableRandom(seed)).html();
      parsed("<all>" + html + "</all>");
      assertFalse(html.contains("style=") || html.contains("<script") || html.contains("NaN"), html);
      assertTrue(html.contains("aria-label=\"Says &quot;this&quot;\""));
    }
  }

  @Test
  void namesAtTheEndsOfLinesNeverTouchAndStayInTheDrawing() {
    for (long seed = 0; seed < 30; seed++) {
      Element svg = parsed(randomChart(new SplittableRandom(seed)).onPaper());
      double width = Double.parseDouble(svg.getAttribute("width"));
      double height = Double.parseDouble(svg.getAttribute("height"));
      List<Double> places = new ArrayList<>();
      NodeList texts = svg.getElementsByTagName("text");
      for (int i = 0; i < texts.getLength(); i++) {
        Element text = (Element) texts.item(i);
        double y = Double.parseDouble(text.getAttribute("y"));
        assertTrue(y > 0 && y <= height, "seed " + seed);
        if (text.getAttribute("class").equals("chart-name")) {
          places.add(y);
          assertTrue(Double.parseDouble(text.getAttribute("x")) + Svg.width(text.getTextContent()) <= width, "seed " + seed);
        }
      }
      places.sort(null);
      for (int i = 1; i < places.size(); i++) {
        assertTrue(places.get(i) - places.get(i - 1) > 16, "seed " + seed + ": " + places);
      }
    }
  }

  @Test
  void noTwoLinesLookAlikeInGreyscale() {
    Set<String> looks = new HashSet<>();
    for (Look look : Look.values()) {
      Svg svg = new Svg();
      look.mark(svg, 0, 0);
      assertTrue(looks.add(look.dash()), "a dash of its own: " + look);
    }
  }

  @Test
  void aColumnIsAsHighAsItsCount() {
    int[] counts = {0, 3, 7, 12, 1};
    ColumnChart chart = new ColumnChart(
        "columns", "week", Axis.counts("signed", 12),
        IntStream.of(counts).mapToObj(n -> new ColumnChart.Column(n, 0)).toList(), i -> "w" + i, List.of("signed"));
    List<Double> heights = new ArrayList<>();
    Matcher m = Pattern.compile("<rect[^>]* height=\"([0-9.]+)\"").matcher(chart.onPaper());
    while (m.find()) {
      heights.add(Double.parseDouble(m.group(1)));
    }
    assertEquals(4, heights.size(), "nothing is drawn for none");
    for (int i = 1; i < counts.length; i++) {
      // in tenths of a px
      assertEquals((double) counts[i] / counts[3], heights.get(i - 1) / heights.get(2), 1e-3);
    }
  }

  @Test
  void ticksAreNiceAndReachTheHighestValue() {
    for (int most = 1; most < 3000; most += 7) {
      Axis axis = Axis.counts("n", most);
      assertTrue(axis.to() >= most && axis.ticks(7).size() <= 7, most + ": " + axis.ticks(7));
      assertEquals(axis.to(), axis.ticks(7).get(axis.ticks(7).size() - 1), 1e-9);
    }
    assertEquals(List.of(0.0, 0.25, 0.5, 0.75, 1.0), Axis.shares("share").ticks(7));
    assertEquals(5, Axis.nice(3), 1e-12);
    assertEquals(0.2, Axis.nice(0.15), 1e-12);
    assertThrows(IllegalArgumentException.class, () -> new Axis("none", 1, 1, List.of(1.0), v -> ""));
  }
}

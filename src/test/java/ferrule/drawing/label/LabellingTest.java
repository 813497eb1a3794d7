package ferrule.drawing.label;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

class LabellingTest {

  private static final Box PICTURE = new Box(0, 0, 1000, 360);
  private static final List<String> TERMS =
      List.of(
          "bell throat", "main tuning slide", "third slide upper outer tube", "lyre holder", "pull knob", "crook",
          "second valve casing bottom cap", "leadpipe receiver", "first slide thumb saddle", "water key",
          "main tuning slide to bell brace upper flange", "valve guide");

  @Property(tries = 200)
  void termsNeverOverlapNorCoverThePicture(@ForAll @IntRange(min = 0, max = 70) int count, @ForAll long seed) {
    Labelling labelling = Labelling.ofTerms(PICTURE, sites(count, seed));
    assertTidy(labelling, count);
    assertTrue(shownTextSize(labelling, Labelling.TERMS_FROM) >= 12, "text is 12 px at least where it is shown");
  }

  @Property(tries = 200)
  void numbersNeverOverlapNorCoverThePicture(@ForAll @IntRange(min = 0, max = 120) int count, @ForAll long seed) {
    Labelling labelling =
        Labelling.ofNumbers(PICTURE, sites(count, seed).stream().map(Site::at).toList());
    assertTidy(labelling, count);
    assertTrue(shownTextSize(labelling, Labelling.NUMBERS_FROM) >= 12, "text is 12 px at least where it is shown");
  }

  @Property(tries = 50)
  void numbersAreCountedOnceEach(@ForAll @IntRange(min = 1, max = 60) int count, @ForAll long seed) {
    Labelling labelling =
        Labelling.ofNumbers(PICTURE, sites(count, seed).stream().map(Site::at).toList());
    assertEquals(
        IntStream.rangeClosed(1, count).mapToObj(String::valueOf).sorted().toList(),
        labelling.labels().stream().map(label -> label.lines().get(0)).sorted().toList());
  }

  @Test
  void numbersGoRoundThePictureClockwiseFromTheUpperLeft() {
    List<Point> sites = List.of(new Point(20, 200), new Point(200, 10), new Point(980, 180), new Point(700, 350));
    List<Labelling.Label> labels = Labelling.ofNumbers(PICTURE, sites).labels();
    assertEquals(List.of("4", "1", "2", "3"), labels.stream().map(label -> label.lines().get(0)).toList());
  }

  @Test
  void numbersThatAllStandBelowReadFromTheLeft() {
    List<Point> sites = List.of(new Point(300, 355), new Point(500, 350), new Point(700, 355));
    List<Labelling.Label> labels = Labelling.ofNumbers(PICTURE, sites).labels();
    assertEquals(List.of("1", "2", "3"), labels.stream().map(label -> label.lines().get(0)).toList());
  }

  @Test
  void thePictureStaysAsItIsWhereThereIsRoomAndGrowsWhereThereIsNot() {
    assertEquals(PICTURE.height(), Labelling.ofTerms(PICTURE, sites(8, 1)).sheet().height());
    Labelling crowded = Labelling.ofTerms(PICTURE, sites(70, 1));
    assertTrue(crowded.sheet().height() > PICTURE.height());
    assertEquals(PICTURE, crowded.picture());
  }

  @Test
  void longTermsAreBrokenWhereTheDrawingGainsByIt() {
    List<Site> sites =
        List.of(
            new Site(new Point(100, 100), "third slide upper outer tube to casing brace"),
            new Site(new Point(900, 200), "crook"));
    Labelling labelling = Labelling.ofTerms(PICTURE, sites);
    assertTrue(labelling.labels().get(0).lines().size() > 1);
    assertEquals(
        "third slide upper outer tube to casing brace", String.join(" ", labelling.labels().get(0).lines()));
    assertEquals(List.of("crook"), labelling.labels().get(1).lines());
  }

  @Test
  void aTextIsBrokenIntoTheNarrowestLines() {
    assertEquals(List.of("water key"), LineBreak.into("water key", 1));
    assertEquals(List.of("third slide", "upper tube"), LineBreak.into("third slide upper tube", 2));
    assertEquals(List.of("ferrule"), LineBreak.into("ferrule", 3));
  }

  @Test
  void theSameIsDrawnTheSameEachTime() {
    assertEquals(Labelling.ofTerms(PICTURE, sites(20, 5)), Labelling.ofTerms(PICTURE, sites(20, 5)));
  }

  @Test
  void textIsWrittenSoThatMarkupInATermCannotBreakTheDrawing() {
    String svg = LabelSvg.of(Labelling.ofTerms(PICTURE, List.of(new Site(new Point(5, 5), "a<b&c"))), List.of(7));
    assertTrue(svg.contains("<g class=\"label-of\" data-shape=\"7\">"), svg);
    assertTrue(svg.contains("a&lt;b&amp;c"), svg);
  }

  private static void assertTidy(Labelling labelling, int count) {
    List<Labelling.Label> labels = labelling.labels();
    assertEquals(count, labels.size());
    BoundaryLabellingTest.assertNoneMeet(labels.stream().map(Labelling.Label::leader).toList());
    for (int i = 0; i < labels.size(); i++) {
      Box box = labels.get(i).box();
      assertFalse(box.overlaps(labelling.picture()), box + " covers the picture");
      assertTrue(labelling.sheet().contains(box), box + " leaves the sheet " + labelling.sheet());
      for (int j = 0; j < i; j++) {
        assertFalse(box.overlaps(labels.get(j).box()), box + " overlaps " + labels.get(j).box());
      }
    }
  }

  private static double shownTextSize(Labelling labelling, double shownWidth) {
    return labelling.fontSize() * shownWidth / labelling.sheet().width();
  }

  private static List<Site> sites(int count, long seed) {
    Random random = new Random(seed);
    return random
        .ints(0, 359 * 999)
        .distinct()
        .limit(count)
        .mapToObj(i -> new Point(i % 999 + 0.5, i / 999 + 0.5))
        .map(at -> new Site(at, TERMS.get((int) (at.x() + at.y()) % TERMS.size())))
        .toList();
  }
}

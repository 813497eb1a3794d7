package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.label.Box;
import ferrule.drawing.label.Labelling;
import ferrule.drawing.label.Leader;
import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class LabelledViewsTest {

  static List<String> views() {
    return Trumpet.STUDIO.views().stream().map(View::id).toList();
  }

  @ParameterizedTest
  @MethodSource("views")
  void noLeadersMeetAndNoLabelsOverlapInAnyView(String view) {
    for (Set<String> model : List.of(Set.<String>of(), Set.of("professional", "button-key", "adjustable-ring"))) {
      for (Labels labels : List.of(Labels.TERMS, Labels.NUMBERS)) {
        Labelling labelling = labelling(view, model, labels);
        List<Leader> leaders = labelling.labels().stream().map(Labelling.Label::leader).toList();
        List<Box> boxes = labelling.labels().stream().map(Labelling.Label::box).toList();
        for (int i = 0; i < leaders.size(); i++) {
          assertFalse(boxes.get(i).overlaps(labelling.picture()), "a label on the drawing");
          for (int j = 0; j < i; j++) {
            assertFalse(leaders.get(i).meets(leaders.get(j)), leaders.get(i) + " meets " + leaders.get(j));
            assertFalse(boxes.get(i).overlaps(boxes.get(j)), boxes.get(i) + " overlaps " + boxes.get(j));
          }
        }
      }
    }
  }

  @Test
  void aLeaderEndsOnThePartThatItsLabelNames() {
    Picture picture =
        Trumpet.STUDIO.picture(PictureRequest.of("players-left").labels(Labels.NUMBERS));
    assertTrue(picture.numbers().size() > 20, "parts with a number: " + picture.numbers().size());
    picture.numbers().keySet().forEach(part -> assertTrue(picture.visible().get(part).areaPx() > 0, part + " is seen"));
    Matcher labels = Pattern.compile("<g class=\"label-of\" data-shape=\"(\\d+)\"><text[^>]*><tspan[^>]*>(\\d+)<")
        .matcher(picture.svg());
    int count = 0;
    while (labels.find()) {
      ConceptId part = picture.shapes().get(Integer.parseInt(labels.group(1)));
      assertEquals(picture.numbers().get(part), Integer.parseInt(labels.group(2)));
      count++;
    }
    assertEquals(picture.numbers().size(), count);
  }

  @Test
  void whatIsDimmedOrLeftOutIsNotLabelled() {
    ConceptId receiver = ConceptId.of("receiver");
    ConceptId leadpipe = ConceptId.of("leadpipe");
    Picture picture =
        Trumpet.STUDIO.picture(
            PictureRequest.of("players-left").labels(Labels.NUMBERS)
                .marks(Map.of(receiver, Mark.DIMMED, leadpipe, Mark.HIDDEN)));
    assertFalse(picture.numbers().containsKey(receiver));
    assertFalse(picture.numbers().containsKey(leadpipe));
  }

  @Test
  void theSheetHoldsTheLabelsAndAPictureWithoutLabelsIsNotWidened() {
    assertTrue(widthOf(Labels.NONE) <= Studio.WIDTH + 1);
    assertTrue(widthOf(Labels.TERMS) > widthOf(Labels.NUMBERS));
    assertTrue(widthOf(Labels.NUMBERS) > Studio.WIDTH);
  }

  @Test
  void wholesAreNamedEachOnceOnAPictureWithoutOtherLabels() {
    List<ConceptId> wholes =
        List.of(ConceptId.of("bell-assembly"), ConceptId.of("third-slide-assembly"), ConceptId.of("valve-section"));
    PictureRequest request = PictureRequest.of("players-left");
    String svg = Trumpet.STUDIO.namesOf(wholes, request).laidOn(Trumpet.STUDIO.picture(request).svg());
    for (String term : List.of("bell assembly", "third slide assembly", "valve section")) {
      String inOneLine = svg.replaceAll("</tspan><tspan[^>]*>", " ");
      assertEquals(1, inOneLine.split(Pattern.quote(">" + term + "<"), -1).length - 1, term);
    }
    assertTrue(svg.endsWith("</g></svg>") && !svg.contains("label-of"));
  }

  @Test
  void aQuizCannotHaveTheTermsBesideItsParts() {
    PictureRequest quiz = PictureRequest.of("players-left").quiz(3);
    assertThrows(IllegalArgumentException.class, () -> quiz.labels(Labels.TERMS));
  }

  private static double widthOf(Labels labels) {
    String svg = Trumpet.STUDIO.picture(PictureRequest.of("players-left").labels(labels)).svg();
    Matcher box = Pattern.compile("viewBox=\"\\S+ \\S+ (\\S+) \\S+\"").matcher(svg);
    assertTrue(box.find());
    return Double.parseDouble(box.group(1));
  }

  private static Labelling labelling(String view, Set<String> model, Labels labels) {
    Picture picture = Trumpet.STUDIO.picture(PictureRequest.of(view).variants(model));
    return Labeller.ofParts(
            labels, Trumpet.GLOSSARY, picture.height(), picture.shapes(), picture.visible(), Map.of())
        .labelling()
        .orElseThrow();
  }
}

package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.io.StringReader;
import java.util.HashSet;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.xml.sax.InputSource;

class PictureTest {

  private static final Pattern SHAPE = Pattern.compile("data-shape=\"(\\d+)\"");

  private static Picture picture(PictureRequest request) {
    return Trumpet.STUDIO.picture(request);
  }

  private static Set<Integer> numbersIn(String svg) {
    Set<Integer> numbers = new HashSet<>();
    Matcher m = SHAPE.matcher(svg);
    while (m.find()) {
      numbers.add(Integer.parseInt(m.group(1)));
    }
    return numbers;
  }

  @Test
  void everyViewIsWellFormedXml() throws Exception {
    for (View view : Trumpet.STUDIO.views()) {
      String svg = picture(PictureRequest.of(view.id())).svg();
      DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
    }
  }

  @Test
  void everyGroupHasANumberThatLeadsToAPart() {
    Picture whole = picture(PictureRequest.of("players-left"));
    Set<Integer> numbers = numbersIn(whole.svg());
    assertEquals(whole.shapes().size(), numbers.size());
    numbers.forEach(n -> assertTrue(n < whole.shapes().size()));
  }

  @Test
  void aHiddenPartHasNoGroup() {
    ConceptId receiver = ConceptId.of("receiver");
    Picture without = picture(PictureRequest.of("players-left").mark(receiver, Mark.HIDDEN));
    assertFalse(numbersIn(without.svg()).contains(without.shapes().indexOf(receiver)));
  }

  @Test
  void aLitPartIsMarkedAndNoOther() {
    ConceptId crook = ConceptId.of("third-slide-crook");
    Picture lit = picture(PictureRequest.of("players-left").lit(crook));
    Matcher m = Pattern.compile("class=\"part m-\\w+ lit\" data-shape=\"(\\d+)\"").matcher(lit.svg());
    assertTrue(m.find());
    do {
      assertEquals(crook, lit.shapes().get(Integer.parseInt(m.group(1))));
    } while (m.find());
  }

  @Test
  void nothingInAQuizPictureSaysWhichPartIsWhich() {
    for (View view : Trumpet.STUDIO.views()) {
      String svg = picture(PictureRequest.of(view.id()).quiz(7)).svg().toLowerCase(java.util.Locale.ROOT);
      assertFalse(svg.contains("<title") || svg.contains("<desc") || svg.contains("aria-"), view.id());
      assertFalse(Pattern.compile("\\sid=\"(?!fd-h\\d)").matcher(svg).find(), "an id in " + view.id());
      for (Concept c : Trumpet.GLOSSARY.nameable()) {
        assertFalse(svg.contains(c.id().value()), c.id() + " in " + view.id());
        c.terms().forEach(t ->
            assertFalse(Pattern.compile("\\b" + Pattern.quote(t.text()) + "\\b").matcher(svg).find(),
                t.text() + " in " + view.id()));
      }
    }
  }

  @Test
  void numbersOfAQuizAreShuffledBySeedAndOnlyBySeed() {
    PictureRequest quiz = PictureRequest.of("players-left");
    assertEquals(picture(quiz.quiz(5)).svg(), picture(quiz.quiz(5)).svg());
    assertNotEquals(picture(quiz.quiz(5)).shapes(), picture(quiz.quiz(6)).shapes());
    assertEquals(new HashSet<>(picture(quiz).shapes()), new HashSet<>(picture(quiz.quiz(6)).shapes()));
  }

  @Test
  void anUnknownViewIsRefusedByName() {
    IllegalArgumentException e = org.junit.jupiter.api.Assertions.assertThrows(
        IllegalArgumentException.class, () -> picture(PictureRequest.of("from-the-moon")));
    assertTrue(e.getMessage().contains("from-the-moon"));
  }
}

package ferrule.drawing.label;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class TextWidthTest {

  /**
   * Widths at 1,000 px as Java's own text layout measures them in DejaVu Sans and in Liberation Sans, regular weight.
   */
  @Test
  void aTermIsCountedAtLeastAsWideAsInEitherFace() {
    assertTrue(TextWidth.ofLine("third slide lower outer tube") >= 13.6216);
    assertTrue(TextWidth.ofLine("third slide lower outer tube") >= 11.7286);
    assertTrue(TextWidth.ofLine("main tuning slide upper inner tube") >= 17.3980);
    assertTrue(TextWidth.ofLine("main tuning slide upper inner tube") <= 17.3980 * 1.1, "and not much wider");
  }

  @Test
  void nothingHasNoWidthAndAnUnknownLetterAGenerousOne() {
    assertEquals(0, TextWidth.ofLine(""));
    assertTrue(TextWidth.ofLine("é") > TextWidth.ofLine("W"));
  }
}

package ferrule.drawing.label;

/**
 * How wide a text can get at most, in em, whatever ordinary sans-serif face it ends up in.
 *
 * <p>A server cannot know which face the reader's browser picks, so the width is an upper bound and not a measurement:
 * for each printable ASCII character the wider of its advances in DejaVu Sans, the widest face that is a usual default
 * for sans-serif, and in Liberation Sans, which has the advances of the most common office face. They were read from
 * the regular weight of both, in thousandths of an em, kerning off, and rounded up. Any other character counts as a
 * full em and a half, which covers full-width and accented letters. Three hundredths are added for what a browser
 * gains when it fits glyphs to its pixels: measured in Chromium, terms in DejaVu Sans were up to 0.2 % wider than their
 * advances, and numbers in the product's own face 0.1 %.
 */
public final class TextWidth {

  private static final char FIRST = ' ';
  private static final int OTHER = 1500;
  private static final double FITTING = 1.03;
  private static final int[] ADVANCE = {
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, // space to /
    637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 557, // 0 to ?
    1016, 685, 687, 723, 771, 667, 611, 778, 752, 295, 500, 667, 558, 863, 749, 788, // @ to O
    667, 788, 723, 667, 611, 732, 685, 989, 686, 667, 686, 391, 337, 391, 838, 557, // P to _
    500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, // ` to o
    635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838, // p to ~
  };

  private TextWidth() {}

  /** The width of a line of text in em, never less than what a browser draws; 0 for no text. */
  public static double ofLine(String text) {
    int thousandths = 0;
    for (int i = 0; i < text.length(); i++) {
      int place = text.charAt(i) - FIRST;
      thousandths += place >= 0 && place < ADVANCE.length ? ADVANCE[place] : OTHER;
    }
    return FITTING * thousandths / 1000;
  }
}

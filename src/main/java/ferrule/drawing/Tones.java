package ferrule.drawing;

/**
 * The steps of light on a surface. A surface has one of {@link #COUNT} tones by the angle between its normal and the
 * light: bands of even tone, as in engraving, rather than gradients, so that a part can be given another colour as a
 * whole and no reference by id is needed.
 */
final class Tones {

  /** The number of tones, 0 the darkest. */
  static final int COUNT = 12;

  /** For each tone from 1 on, the least light that gives it: the cosine of the angle to a light of power 1. */
  private static final double[] LEAST = new double[COUNT];

  private static final int[][] CHOICE = {
    {5, 9}, {3, 6, 9}, {2, 5, 8, 10}, {2, 4, 6, 8, 10}, {1, 3, 5, 7, 9, 11}, {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
  };

  static {
    for (int i = 1; i < COUNT; i++) {
      LEAST[i] = least(i);
    }
  }

  private static double least(double tone) {
    return Math.cos(Math.toRadians(100 * Math.pow(1 - (tone - 0.2) / COUNT, 1.05) - 1));
  }

  private Tones() {}

  /** The tones that a round body of this radius in px is shaded with, from dark to light. */
  static int[] forRadius(double px) {
    return CHOICE[px < 1.6 ? 0 : px < 4.5 ? 1 : px < 10 ? 2 : px < 13 ? 3 : px < 34 ? 4 : 5];
  }

  /**
   * How far to each side of its brightest line a round body has this tone or a lighter one, in radians; negative if
   * nowhere.
   *
   * @param power how much of the light falls square to the body's axis, more than 0 and at most 1
   */
  static double reach(double tone, double power) {
    double cosine = least(tone) / Math.max(power, 1e-6);
    return cosine > 1 ? -1 : Math.acos(Math.max(-1, cosine));
  }

  /** The tone of a flat surface with this normal, on the picture, in halves: between two tones lies their mixture. */
  static double inHalves(Vec normal) {
    double light = normal.dot(Tube.LIGHT);
    double tone = 0;
    while (tone + 0.5 < COUNT && least(tone + 0.5) <= light) {
      tone += 0.5;
    }
    return Math.min(COUNT - 1, tone);
  }

  /** The tone of a flat surface with this normal, on the picture. */
  static int of(Vec normal) {
    double light = normal.dot(Tube.LIGHT);
    int tone = 0;
    while (tone + 1 < COUNT && LEAST[tone + 1] <= light) {
      tone++;
    }
    return tone;
  }
}

package ferrule.drawing;

/**
 * The steps of light on a surface. A surface has one of {@link #COUNT} tones by the angle between its normal and the
 * light: bands of even tone, as in engraving, rather than gradients, so that a part can be given another colour as a
 * whole and no reference by id is needed.
 */
final class Tones {

  /** The number of tones, 0 the darkest. */
  static final int COUNT = 12;

  /** For each tone from 1 on, the widest angle to the light in radians at which a surface still has it. */
  private static final double[] REACH = new double[COUNT];

  private static final int[][] CHOICE = {
    {4, 8, 10}, {2, 4, 6, 8, 10}, {1, 3, 5, 7, 8, 9, 10, 11}, {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
  };

  static {
    for (int i = 1; i < COUNT; i++) {
      REACH[i] = Math.toRadians(100 * Math.pow(1 - (i - 0.2) / COUNT, 1.05) - 1);
    }
  }

  private Tones() {}

  /** The tones that a round body of this radius in px is shaded with, from dark to light. */
  static int[] forRadius(double px) {
    return CHOICE[px < 1.6 ? 0 : px < 4 ? 1 : px < 9 ? 2 : 3];
  }

  /** The widest angle to the light, in radians, at which a surface still has this tone or a lighter one. */
  static double reach(int tone) {
    return REACH[tone];
  }

  /** The tone of a flat surface with this normal, on the picture. */
  static int of(Vec normal) {
    double angle = Math.acos(Math.max(-1, Math.min(1, normal.dot(Tube.LIGHT))));
    int tone = 0;
    while (tone + 1 < COUNT && REACH[tone + 1] >= angle) {
      tone++;
    }
    return tone;
  }
}

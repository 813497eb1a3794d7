package ferrule.drawing;

import java.util.List;

/** The surface of a piece as triangles for the {@link Raster}. */
final class Skin {

  /** Up to this lean the far half of a turned body cannot be seen past the near one. */
  private static final double SIDEWAYS = 0.05;
  /** Stations whose rims are closer than so many pixels are taken as one. */
  private static final double CLOSE = 1.2;
  private static final int AROUND_HALF = 6;
  private static final double[] HALF_SIN = new double[AROUND_HALF + 1];
  private static final double[] HALF_COS = new double[AROUND_HALF + 1];
  private static final int AROUND = 14;
  private static final double[] FULL_SIN = new double[AROUND + 1];
  private static final double[] FULL_COS = new double[AROUND + 1];

  static {
    for (int i = 0; i <= AROUND_HALF; i++) {
      double a = Math.PI * i / AROUND_HALF - Math.PI / 2;
      HALF_SIN[i] = Math.sin(a);
      HALF_COS[i] = Math.cos(a);
    }
    for (int i = 0; i <= AROUND; i++) {
      double a = 2 * Math.PI * i / AROUND;
      FULL_SIN[i] = Math.sin(a);
      FULL_COS[i] = Math.cos(a);
    }
  }

  private Skin() {}

  /** Paints a piece as a layer, its picture's coordinates times a factor. */
  static void paint(Piece piece, int layer, double factor, Raster raster) {
    raster.begin(layer);
    if (piece.form() instanceof Piece.Round round) {
      paintRound(piece, round, factor, raster);
    } else if (piece.form() instanceof Piece.Flat flat) {
      for (Facets.Face face : flat.facets().faces()) {
        paintFace(face, factor, raster);
      }
    }
    raster.end();
  }

  private static void paintRound(Piece piece, Piece.Round round, double f, Raster raster) {
    Tube t = round.tube().within(piece.from(), piece.to());
    boolean full = round.sweep().turned() && (Math.abs(t.lean[piece.from()]) > SIDEWAYS || round.sweep().mouth().isPresent());
    double[] sin = full ? FULL_SIN : HALF_SIN;
    double[] cos = full ? FULL_COS : HALF_COS;
    int i = piece.from();
    while (i < piece.to()) {
      int j = i + 1;
      while (j < piece.to() && apart(t, i, j) * f < CLOSE) {
        j++;
      }
      for (int k = 0; k + 1 < sin.length; k++) {
        quad(t, i, j, sin, cos, k, f, raster);
      }
      i = j;
    }
    if (round.sweep().closed() || round.sweep().mouth().isPresent()) {
      return;
    }
    if (piece.from() == 0 && t.lean[0] < -0.02) {
      disc(t, 0, f, raster);
    }
    if (piece.to() == t.size - 1 && t.lean[t.size - 1] > 0.02) {
      disc(t, t.size - 1, f, raster);
    }
  }

  /** At least how far the rims of two stations lie from one another. */
  private static double apart(Tube t, int i, int j) {
    return Math.abs(t.x[i] - t.x[j]) + Math.abs(t.y[i] - t.y[j]) + Math.abs(t.r[i] - t.r[j]);
  }

  private static void quad(Tube t, int i, int j, double[] sin, double[] cos, int k, double f, Raster raster) {
    double ax = f * t.px(i, sin[k], cos[k], t.r[i]);
    double ay = f * t.py(i, sin[k], cos[k], t.r[i]);
    double az = f * t.pz(i, cos[k], t.r[i]);
    double bx = f * t.px(i, sin[k + 1], cos[k + 1], t.r[i]);
    double by = f * t.py(i, sin[k + 1], cos[k + 1], t.r[i]);
    double bz = f * t.pz(i, cos[k + 1], t.r[i]);
    double cx = f * t.px(j, sin[k + 1], cos[k + 1], t.r[j]);
    double cy = f * t.py(j, sin[k + 1], cos[k + 1], t.r[j]);
    double cz = f * t.pz(j, cos[k + 1], t.r[j]);
    double dx = f * t.px(j, sin[k], cos[k], t.r[j]);
    double dy = f * t.py(j, sin[k], cos[k], t.r[j]);
    double dz = f * t.pz(j, cos[k], t.r[j]);
    raster.triangle(ax, ay, az, bx, by, bz, cx, cy, cz);
    raster.triangle(ax, ay, az, cx, cy, cz, dx, dy, dz);
  }

  private static void disc(Tube t, int i, double f, Raster raster) {
    for (int k = 0; k + 1 < FULL_SIN.length; k++) {
      raster.triangle(
          f * t.x[i], f * t.y[i], f * t.z[i],
          f * t.px(i, FULL_SIN[k], FULL_COS[k], t.r[i]),
          f * t.py(i, FULL_SIN[k], FULL_COS[k], t.r[i]),
          f * t.pz(i, FULL_COS[k], t.r[i]),
          f * t.px(i, FULL_SIN[k + 1], FULL_COS[k + 1], t.r[i]),
          f * t.py(i, FULL_SIN[k + 1], FULL_COS[k + 1], t.r[i]),
          f * t.pz(i, FULL_COS[k + 1], t.r[i]));
    }
  }

  private static void paintFace(Facets.Face face, double f, Raster raster) {
    if (face.outward().z() <= 1e-6) {
      return;
    }
    List<int[]> triangles = Ears.cut(face.corners());
    for (int[] t : triangles) {
      Vec a = face.corners().get(t[0]);
      Vec b = face.corners().get(t[1]);
      Vec c = face.corners().get(t[2]);
      raster.triangle(
          f * a.x(), f * a.y(), f * a.z(), f * b.x(), f * b.y(), f * b.z(), f * c.x(), f * c.y(), f * c.z());
    }
  }
}

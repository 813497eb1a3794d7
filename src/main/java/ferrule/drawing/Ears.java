package ferrule.drawing;

import java.util.ArrayList;
import java.util.List;

/** Cuts a simple polygon on the picture into triangles by taking off ears (Meisters 1975). Quadratic in its corners. */
final class Ears {

  private Ears() {}

  /** Triangles as indices of corners; a polygon that is seen edge-on gives none or thin ones. */
  static List<int[]> cut(List<Vec> corners) {
    List<Integer> left = new ArrayList<>();
    double area = 0;
    for (int i = 0; i < corners.size(); i++) {
      Vec a = corners.get(i);
      Vec b = corners.get((i + 1) % corners.size());
      area += a.x() * b.y() - b.x() * a.y();
      left.add(i);
    }
    double sign = area >= 0 ? 1 : -1;
    List<int[]> triangles = new ArrayList<>();
    while (left.size() > 3) {
      int ear = findEar(corners, left, sign);
      int n = left.size();
      triangles.add(new int[] {left.get((ear + n - 1) % n), left.get(ear), left.get((ear + 1) % n)});
      left.remove(ear);
    }
    triangles.add(new int[] {left.get(0), left.get(1), left.get(2)});
    return triangles;
  }

  private static int findEar(List<Vec> corners, List<Integer> left, double sign) {
    int n = left.size();
    for (int i = 0; i < n; i++) {
      Vec a = corners.get(left.get((i + n - 1) % n));
      Vec b = corners.get(left.get(i));
      Vec c = corners.get(left.get((i + 1) % n));
      if (sign * turn(a, b, c) > 0 && isEmpty(corners, left, i, a, b, c, sign)) {
        return i;
      }
    }
    return 0;
  }

  private static boolean isEmpty(
      List<Vec> corners, List<Integer> left, int ear, Vec a, Vec b, Vec c, double sign) {
    int n = left.size();
    for (int k = 0; k < n; k++) {
      if (k == ear || k == (ear + 1) % n || k == (ear + n - 1) % n) {
        continue;
      }
      Vec p = corners.get(left.get(k));
      if (sign * turn(a, b, p) >= 0 && sign * turn(b, c, p) >= 0 && sign * turn(c, a, p) >= 0) {
        return false;
      }
    }
    return true;
  }

  private static double turn(Vec a, Vec b, Vec c) {
    return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
  }
}

package ferrule.procedure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Places the elements of a partial order in rows so that every cover leads downward, with few crossings.
 *
 * <p>The method of K. Sugiyama, S. Tagawa and M. Toda (IEEE Transactions on Systems, Man, and Cybernetics 11, 1981,
 * 109-125; from memory): rows by longest path, a bend in every row that a line passes, the order within rows by
 * barycentres swept down and up with the best kept, and then places as near to the neighbours' mean as the spacing
 * allows. The result depends on the order alone.
 */
final class LayeredLayout {

  private static final int SWEEPS = 12;
  private static final int RELAXATIONS = 40;

  /** An element or a bend of a line, in its place. */
  static final class Spot {
    final int element;
    final int row;
    final List<Spot> above = new ArrayList<>();
    final List<Spot> below = new ArrayList<>();
    double x;
    private double wish;

    Spot(int element, int row) {
      this.element = element;
      this.row = row;
    }

    boolean isBend() {
      return element < 0;
    }
  }

  private final PartialOrder order;
  private final double elementWidth;
  private final double bendWidth;
  private final List<List<Spot>> rows = new ArrayList<>();
  private final List<List<Spot>> lines = new ArrayList<>();

  /**
   * Lays an order out.
   *
   * @param elementWidth the room that an element takes in its row, with the space to the next
   * @param bendWidth the room that a passing line takes
   */
  LayeredLayout(PartialOrder order, double elementWidth, double bendWidth) {
    this.order = order;
    this.elementWidth = elementWidth;
    this.bendWidth = bendWidth;
    placeInRows();
    orderRows();
    settle();
  }

  /** The rows from the top down, each from left to right; {@code x} is the middle of a spot, from 0. */
  List<List<Spot>> rows() {
    return rows;
  }

  /** For each cover, the spots that its line goes through, from its upper end to its lower. */
  List<List<Spot>> lines() {
    return lines;
  }

  /** The room that all rows take. */
  double width() {
    return rows.stream().flatMap(List::stream).mapToDouble(s -> s.x + width(s) / 2).max().orElse(0);
  }

  private double width(Spot spot) {
    return spot.isBend() ? bendWidth : elementWidth;
  }

  private void placeInRows() {
    int[] row = rowOfEach();
    Spot[] spots = new Spot[order.size()];
    for (int i = 0; i < spots.length; i++) {
      while (rows.size() <= row[i]) {
        rows.add(new ArrayList<>());
      }
      spots[i] = new Spot(i, row[i]);
      rows.get(row[i]).add(spots[i]);
    }
    for (PartialOrder.Pair cover : order.covers()) {
      List<Spot> line = new ArrayList<>(List.of(spots[cover.lower()]));
      for (int between = row[cover.lower()] + 1; between < row[cover.upper()]; between++) {
        line.add(new Spot(-1, between));
        rows.get(between).add(line.get(line.size() - 1));
      }
      line.add(spots[cover.upper()]);
      for (int i = 1; i < line.size(); i++) {
        line.get(i - 1).below.add(line.get(i));
        line.get(i).above.add(line.get(i - 1));
      }
      lines.add(line);
    }
  }

  /** As high as the order allows; then what has more lines down than up, as low, so that lines are short. */
  private int[] rowOfEach() {
    int[] row = new int[order.size()];
    List<Integer> upward = new ArrayList<>();
    for (int i = 0; i < row.length; i++) {
      upward.add(i);
    }
    upward.sort(Comparator.comparing(i -> Long.bitCount(order.below(i))));
    List<PartialOrder.Pair> covers = order.covers();
    for (int element : upward) {
      row[element] =
          covers.stream().filter(c -> c.upper() == element).mapToInt(c -> row[c.lower()] + 1).max().orElse(0);
    }
    for (int i = upward.size() - 1; i >= 0; i--) {
      int element = upward.get(i);
      long linesUp = covers.stream().filter(c -> c.upper() == element).count();
      long linesDown = covers.stream().filter(c -> c.lower() == element).count();
      if (linesDown > 0 && linesDown >= linesUp) {
        row[element] =
            covers.stream().filter(c -> c.lower() == element).mapToInt(c -> row[c.upper()] - 1).min().orElse(0);
      }
    }
    return row;
  }

  private void orderRows() {
    List<List<Spot>> best = copy(rows);
    int fewest = crossings();
    for (int sweep = 0; sweep < SWEEPS; sweep++) {
      boolean down = sweep % 2 == 0;
      for (int i = 0; i < rows.size(); i++) {
        sortByNeighbours(rows.get(down ? i : rows.size() - 1 - i), down);
      }
      if (crossings() < fewest) {
        fewest = crossings();
        best = copy(rows);
      }
    }
    for (int i = 0; i < rows.size(); i++) {
      rows.set(i, best.get(i));
    }
  }

  private static List<List<Spot>> copy(List<List<Spot>> rows) {
    List<List<Spot>> copy = new ArrayList<>();
    rows.forEach(row -> copy.add(new ArrayList<>(row)));
    return copy;
  }

  private void sortByNeighbours(List<Spot> row, boolean down) {
    for (Spot spot : row) {
      List<Spot> neighbours = down ? spot.above : spot.below;
      spot.wish = neighbours.stream().mapToInt(n -> rows.get(n.row).indexOf(n)).average().orElse(row.indexOf(spot));
    }
    row.sort(Comparator.comparingDouble(s -> s.wish));
  }

  private int crossings() {
    int crossings = 0;
    for (List<Spot> row : rows) {
      List<int[]> ends = new ArrayList<>();
      for (Spot spot : row) {
        spot.below.forEach(b -> ends.add(new int[] {row.indexOf(spot), rows.get(b.row).indexOf(b)}));
      }
      for (int[] one : ends) {
        for (int[] other : ends) {
          crossings += one[0] < other[0] && one[1] > other[1] ? 1 : 0;
        }
      }
    }
    return crossings;
  }

  private void settle() {
    for (int round = 0; round < RELAXATIONS; round++) {
      for (List<Spot> row : rows) {
        for (Spot spot : row) {
          List<Spot> neighbours = new ArrayList<>(spot.above);
          neighbours.addAll(spot.below);
          spot.wish = neighbours.stream().mapToDouble(n -> n.x).average().orElse(spot.x);
        }
        space(row);
      }
    }
    double left = rows.stream().flatMap(List::stream).mapToDouble(s -> s.x - width(s) / 2).min().orElse(0);
    rows.stream().flatMap(List::stream).forEach(s -> s.x -= left);
  }

  // pushed apart to the right, and pushed apart to the left: both keep the spacing, and so does their mean
  private void space(List<Spot> row) {
    double[] right = new double[row.size()];
    double[] left = new double[row.size()];
    for (int i = 0; i < right.length; i++) {
      right[i] = i == 0 ? row.get(i).wish : Math.max(row.get(i).wish, right[i - 1] + gap(row, i));
    }
    for (int i = left.length - 1; i >= 0; i--) {
      left[i] = i == left.length - 1 ? row.get(i).wish : Math.min(row.get(i).wish, left[i + 1] - gap(row, i + 1));
    }
    for (int i = 0; i < right.length; i++) {
      row.get(i).x = (right[i] + left[i]) / 2;
    }
  }

  private double gap(List<Spot> row, int right) {
    return (width(row.get(right - 1)) + width(row.get(right))) / 2;
  }
}

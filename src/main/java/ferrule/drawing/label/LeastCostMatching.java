package ferrule.drawing.label;

import java.util.Arrays;

/**
 * The assignment of rows to columns with the least sum of costs: each row gets a column of its own. Shortest
 * augmenting paths over reduced costs (H. W. Kuhn 1955, J. Munkres 1957, in the rectangular form), O(n² m).
 */
final class LeastCostMatching {

  private final double[][] cost;
  private final int rows;
  private final int columns;
  private final double[] rowPotential;
  private final double[] columnPotential;
  /** For each column the row that holds it, counted from 1; 0 is no row. Column 0 is where a search starts. */
  private final int[] holder;

  private LeastCostMatching(double[][] cost) {
    this.cost = cost;
    this.rows = cost.length;
    this.columns = cost[0].length;
    this.rowPotential = new double[rows + 1];
    this.columnPotential = new double[columns + 1];
    this.holder = new int[columns + 1];
  }

  /**
   * The column of each row.
   *
   * @param cost finite costs, at least one row and at least as many columns as rows
   */
  static int[] of(double[][] cost) {
    LeastCostMatching matching = new LeastCostMatching(cost);
    for (int row = 1; row <= matching.rows; row++) {
      matching.seat(row);
    }
    int[] columnOf = new int[matching.rows];
    for (int column = 1; column <= matching.columns; column++) {
      if (matching.holder[column] > 0) {
        columnOf[matching.holder[column] - 1] = column - 1;
      }
    }
    return columnOf;
  }

  private void seat(int row) {
    double[] slack = new double[columns + 1];
    Arrays.fill(slack, Double.POSITIVE_INFINITY);
    boolean[] reached = new boolean[columns + 1];
    int[] from = new int[columns + 1];
    holder[0] = row;
    int column = 0;
    do {
      reached[column] = true;
      int next = relax(column, slack, reached, from);
      shift(slack[next], slack, reached);
      column = next;
    } while (holder[column] != 0);
    while (column != 0) {
      holder[column] = holder[from[column]];
      column = from[column];
    }
  }

  // looks from the row that holds this column to all columns not yet reached, and says which of them is nearest
  private int relax(int column, double[] slack, boolean[] reached, int[] from) {
    int row = holder[column];
    int nearest = 0;
    double least = Double.POSITIVE_INFINITY;
    for (int other = 1; other <= columns; other++) {
      if (reached[other]) {
        continue;
      }
      double reduced = cost[row - 1][other - 1] - rowPotential[row] - columnPotential[other];
      if (reduced < slack[other]) {
        slack[other] = reduced;
        from[other] = column;
      }
      if (slack[other] < least) {
        least = slack[other];
        nearest = other;
      }
    }
    return nearest;
  }

  private void shift(double step, double[] slack, boolean[] reached) {
    for (int column = 0; column <= columns; column++) {
      if (reached[column]) {
        rowPotential[holder[column]] += step;
        columnPotential[column] -= step;
      } else {
        slack[column] -= step;
      }
    }
  }
}

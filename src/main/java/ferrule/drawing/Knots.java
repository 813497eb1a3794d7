package ferrule.drawing;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.Iterator;
import java.util.List;
import java.util.Map;

/** The strongly connected components of a graph, by Tarjan's algorithm (1972), without recursion. */
final class Knots {

  private final List<Map<Integer, Integer>> edges;
  private final int[] index;
  private final int[] low;
  private final int[] knot;
  private final boolean[] stacked;
  private final Deque<Integer> stack = new ArrayDeque<>();
  private int counter;
  private int knots;

  private Knots(List<Map<Integer, Integer>> edges) {
    this.edges = edges;
    index = new int[edges.size()];
    low = new int[edges.size()];
    knot = new int[edges.size()];
    stacked = new boolean[edges.size()];
    Arrays.fill(index, -1);
  }

  /** The number of its component for each node. */
  static int[] of(List<Map<Integer, Integer>> edges) {
    Knots found = new Knots(edges);
    for (int i = 0; i < edges.size(); i++) {
      if (found.index[i] < 0) {
        found.explore(i);
      }
    }
    return found.knot;
  }

  private record Visit(int node, Iterator<Integer> rest) {}

  private void explore(int root) {
    Deque<Visit> path = new ArrayDeque<>();
    path.push(enter(root));
    while (!path.isEmpty()) {
      Visit visit = path.peek();
      if (visit.rest.hasNext()) {
        int next = visit.rest.next();
        if (index[next] < 0) {
          path.push(enter(next));
        } else if (stacked[next]) {
          low[visit.node] = Math.min(low[visit.node], index[next]);
        }
      } else {
        path.pop();
        leave(visit.node);
        if (!path.isEmpty()) {
          low[path.peek().node] = Math.min(low[path.peek().node], low[visit.node]);
        }
      }
    }
  }

  private Visit enter(int node) {
    index[node] = counter;
    low[node] = counter++;
    stack.push(node);
    stacked[node] = true;
    return new Visit(node, edges.get(node).keySet().iterator());
  }

  private void leave(int node) {
    if (low[node] != index[node]) {
      return;
    }
    int member;
    do {
      member = stack.pop();
      stacked[member] = false;
      knot[member] = knots;
    } while (member != node);
    knots++;
  }
}

package ferrule.procedure;

import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jgrapht.Graph;
import org.jgrapht.GraphPath;
import org.jgrapht.alg.connectivity.KosarajuStrongConnectivityInspector;
import org.jgrapht.alg.shortestpath.BFSShortestPath;
import org.jgrapht.graph.AsSubgraph;
import org.jgrapht.graph.DefaultEdge;
import org.jgrapht.graph.SimpleDirectedGraph;

/**
 * Finds what is wrong with the precedences of a procedure's file: steps that are not there, circles, precedences that
 * follow from others, a list of steps that breaks them, and steps that are tied to nothing.
 */
final class PrecedenceCheck {

  private final List<YamlNode> steps;
  private final Set<String> lostIds;
  private final Problems problems;
  private final boolean complete;
  private final Graph<String, DefaultEdge> before = new SimpleDirectedGraph<>(DefaultEdge.class);
  private final Map<DefaultEdge, YamlNode> statedAt = new LinkedHashMap<>();
  private final Map<String, Integer> place = new HashMap<>();

  /**
   * A check of these steps.
   *
   * @param lostIds ids that stand in pieces of the file that could not be read
   * @param problems of the file so far; if there are any, steps may look loose that are not
   */
  PrecedenceCheck(List<YamlNode> steps, Set<String> lostIds, Problems problems) {
    this.steps = steps;
    this.lostIds = lostIds;
    this.problems = problems;
    this.complete = problems.isEmpty();
  }

  void run() {
    collectSteps();
    collectPrecedences();
    boolean circles = reportCircles();
    if (!circles) {
      reportRedundant();
      reportListedAgainst();
    }
    if (complete) {
      reportLoose();
    }
  }

  private void collectSteps() {
    for (YamlNode step : steps) {
      YamlNode id = step.get("id").orElseThrow();
      if (!before.addVertex(id.text())) {
        problems.add(id.at(), "step id '" + id.text() + "' stands twice; expected an id of its own");
      }
      place.putIfAbsent(id.text(), place.size());
    }
  }

  private void collectPrecedences() {
    for (YamlNode step : steps) {
      for (YamlNode precedence : step.list("after")) {
        collect(step.text("id"), precedence.get("step").orElseThrow());
      }
    }
  }

  private void collect(String later, YamlNode earlier) {
    if (!before.containsVertex(earlier.text())) {
      if (!lostIds.contains(earlier.text())) {
        problems.add(
            earlier.at(), "unknown step '" + earlier.text() + "'; expected the id of a step of this procedure");
      }
    } else if (earlier.text().equals(later)) {
      problems.add(earlier.at(), "step '" + later + "' comes after itself; expected another step");
    } else {
      DefaultEdge edge = before.addEdge(earlier.text(), later);
      if (edge == null) {
        problems.add(earlier.at(), "step '" + earlier.text() + "' stands twice here; expected it once");
      } else {
        statedAt.put(edge, earlier);
      }
    }
  }

  /** Reports each knot of steps once, by a shortest circle through its step that is listed first. */
  private boolean reportCircles() {
    boolean found = false;
    for (Set<String> knot : new KosarajuStrongConnectivityInspector<>(before).stronglyConnectedSets()) {
      if (knot.size() > 1) {
        reportCircle(knot);
        found = true;
      }
    }
    return found;
  }

  private void reportCircle(Set<String> knot) {
    String first = knot.stream().min(Comparator.comparing(place::get)).orElseThrow();
    Graph<String, DefaultEdge> within = new AsSubgraph<>(before, knot);
    GraphPath<String, DefaultEdge> back =
        within.outgoingEdgesOf(first).stream()
            .map(edge -> BFSShortestPath.findPathBetween(within, within.getEdgeTarget(edge), first))
            .min(Comparator.comparing(GraphPath::getLength))
            .orElseThrow();
    List<String> circle = new ArrayList<>(List.of(first));
    circle.addAll(back.getVertexList());
    DefaultEdge closing = before.getEdge(circle.get(circle.size() - 2), first);
    problems.add(statedAt.get(closing).at(),
        "the steps go in a circle: " + String.join(" > ", circle) + "; expected one of these precedences to go");
  }

  private void reportRedundant() {
    statedAt.forEach((edge, node) -> {
      String earlier = before.getEdgeSource(edge);
      String later = before.getEdgeTarget(edge);
      Graph<String, DefaultEdge> others = new SimpleDirectedGraph<>(DefaultEdge.class);
      before.vertexSet().forEach(others::addVertex);
      before.edgeSet().stream().filter(e -> e != edge)
          .forEach(e -> others.addEdge(before.getEdgeSource(e), before.getEdgeTarget(e)));
      Optional.ofNullable(BFSShortestPath.findPathBetween(others, earlier, later)).ifPresent(path ->
          problems.add(node.at(), "that '" + earlier + "' comes before '" + later + "' follows from "
              + String.join(" > ", path.getVertexList()) + " anyway; expected only what does not follow"));
    });
  }

  private void reportListedAgainst() {
    statedAt.forEach((edge, node) -> {
      String earlier = before.getEdgeSource(edge);
      String later = before.getEdgeTarget(edge);
      if (place.get(earlier) > place.get(later)) {
        problems.add(node.at(),
            "step '" + earlier + "' is listed after '" + later + "'; expected the steps in an order that works");
      }
    });
  }

  private void reportLoose() {
    Set<String> seen = new HashSet<>();
    for (YamlNode step : steps) {
      String id = step.text("id");
      if (seen.add(id) && before.degreeOf(id) == 0 && step.list("after").isEmpty()) {
        problems.add(step.get("id").orElseThrow().at(), "step '" + id
            + "' is tied to no other step; expected an 'after' of its own or in another step");
      }
    }
  }
}

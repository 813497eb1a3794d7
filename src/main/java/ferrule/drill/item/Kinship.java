package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.random.RandomGenerator;
import java.util.stream.Stream;

/**
 * How easily one part is taken for another: what makes a good distractor.
 *
 * <p>A distractor is to be plausible to somebody who does not know and wrong to everybody who does (T. M. Haladyna,
 * S. M. Downing, M. C. Rodriguez, A review of multiple-choice item-writing guidelines for classroom assessment, Applied
 * Measurement in Education 15, 2002, 309-334: guideline 29, plausible distractors; 30, typical errors of students). Here
 * a part is plausible if it is of the same kind, answers the facets' questions alike, belongs to the same whole, or lies
 * beside; and the more so, the more often this class took the one for the other. The weights are our own estimates.
 *
 * <p>Distractors are drawn without putting back, each with a chance that grows with its nearness, so that forms differ
 * and yet no far-fetched part stands among the options while near ones are left.
 */
public final class Kinship {

  private static final double SAME_KIND = 4;
  private static final double SAME_FAMILY = 2;
  private static final double SAME_ANSWER = 1;
  private static final double SAME_WHOLE = 1.5;
  private static final double NEIGHBOUR = 1.5;
  private static final double CONFUSED = 2;
  /** How many of the nearest are drawn from. */
  static final int NEAREST = 9;

  private final Parts parts;
  private final Map<ConceptId, Map<ConceptId, Integer>> confusions;
  // by structure alone, which does not change with the class
  private final Map<ConceptId, List<Near>> nearest;

  /**
   * A part and how near it is to another, from 0.
   *
   * @param part the part
   * @param nearness the larger, the more easily it is taken for the other
   */
  record Near(ConceptId part, double nearness) {}

  /** Kinship by structure alone. */
  public Kinship(Parts parts) {
    this(parts, Map.of(), new ConcurrentHashMap<>());
  }

  private Kinship(
      Parts parts, Map<ConceptId, Map<ConceptId, Integer>> confusions, Map<ConceptId, List<Near>> nearest) {
    this.parts = parts;
    this.confusions = confusions;
    this.nearest = nearest;
  }

  /**
   * The same with what a class mixes up.
   *
   * @param mixedUp how often it took one part for another, each way counted for both
   */
  public Kinship among(Map<ConceptId, Map<ConceptId, Integer>> mixedUp) {
    Map<ConceptId, Map<ConceptId, Integer>> bothWays = new HashMap<>();
    mixedUp.forEach(
        (asked, taken) ->
            taken.forEach(
                (other, times) -> {
                  bothWays.computeIfAbsent(asked, a -> new HashMap<>()).merge(other, times, Integer::sum);
                  bothWays.computeIfAbsent(other, o -> new HashMap<>()).merge(asked, times, Integer::sum);
                }));
    return new Kinship(parts, bothWays, nearest);
  }

  /** The parts that it is about. */
  public Parts parts() {
    return parts;
  }

  /** How near two parts are to each other by structure, from 0. */
  double nearness(ConceptId one, ConceptId other) {
    Concept a = parts.glossary().get(one);
    Concept b = parts.glossary().get(other);
    double sum = 0;
    if (a.broader().isPresent() && a.broader().equals(b.broader())) {
      sum += SAME_KIND;
    } else if (shareAKind(one, other)) {
      sum += SAME_FAMILY;
    }
    for (Map.Entry<String, String> answer : a.qualifiers().entrySet()) {
      sum += answer.getValue().equals(b.qualifiers().get(answer.getKey())) ? SAME_ANSWER : 0;
    }
    sum += a.partOf().isPresent() && a.partOf().equals(b.partOf()) ? SAME_WHOLE : 0;
    sum += a.connects().contains(other) || b.connects().contains(one) ? NEIGHBOUR : 0;
    return sum;
  }

  private boolean shareAKind(ConceptId one, ConceptId other) {
    Set<ConceptId> kinds = new HashSet<>(parts.glossary().kindsOf(one).stream().map(Concept::id).toList());
    return parts.glossary().kindsOf(other).stream().map(Concept::id).anyMatch(kinds::contains);
  }

  /** The parts that can be asked for, the nearest to this one first, without itself, its pieces and its wholes. */
  List<Near> nearestTo(ConceptId part) {
    List<Near> byStructure = nearest.computeIfAbsent(part, this::byStructure);
    Map<ConceptId, Integer> mixedUp = confusions.getOrDefault(part, Map.of());
    if (mixedUp.isEmpty()) {
      return byStructure;
    }
    return sorted(
        byStructure.stream()
            .map(
                n -> new Near(n.part(), n.nearness() + CONFUSED * Math.log1p(mixedUp.getOrDefault(n.part(), 0)))));
  }

  private List<Near> byStructure(ConceptId part) {
    return sorted(
        parts.askable().keySet().stream()
            .filter(other -> !parts.isOneWithin(part, other))
            .map(other -> new Near(other, nearness(part, other))));
  }

  private static List<Near> sorted(Stream<Near> near) {
    return near.sorted(Comparator.comparingDouble(Near::nearness).reversed().thenComparing(Near::part)).toList();
  }

  /**
   * Draws from candidates that come the nearest first.
   *
   * @param count how many are wanted; fewer come back only if there are fewer candidates
   */
  static List<ConceptId> draw(List<Near> candidates, int count, RandomGenerator random) {
    List<Near> left = new ArrayList<>(candidates.subList(0, Math.min(candidates.size(), Math.max(NEAREST, count))));
    List<ConceptId> drawn = new ArrayList<>();
    while (drawn.size() < count && !left.isEmpty()) {
      double sum = left.stream().mapToDouble(Kinship::weight).sum();
      double at = random.nextDouble() * sum;
      int i = 0;
      while (i < left.size() - 1 && (at -= weight(left.get(i))) > 0) {
        i++;
      }
      drawn.add(left.remove(i).part());
    }
    return drawn;
  }

  private static double weight(Near near) {
    return Math.exp(near.nearness() / 2);
  }

  /** How many parts are as near as one of the same kind: what makes a part hard to name. */
  int lookAlikes(ConceptId part) {
    return (int)
        nearest.computeIfAbsent(part, this::byStructure).stream().filter(n -> n.nearness() >= SAME_KIND).count();
  }
}

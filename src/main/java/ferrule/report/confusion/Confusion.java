package ferrule.report.confusion;

import ferrule.drill.MixUp;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.hipparchus.stat.interval.BinomialProportion;
import org.hipparchus.stat.interval.ConfidenceInterval;

/**
 * Which parts a class takes for which.
 *
 * <p>Two parts are mixed up however the question runs, so that {@link #pairs} count both directions together. They are in the
 * order of what their interval leaves certain, its lower limit, those with a single slip last: one in two answers is half of
 * them and says little.
 *
 * @param cells one for each part that was taken for another and what it was taken for, the most often first
 * @param pairs of parts that are taken for each other, the surest first
 * @param answers how many there were about each part
 */
public record Confusion(List<Cell> cells, List<Pair> pairs, Map<ConceptId, Integer> answers) {

  /** Below so many answers no share is told, only the counts: our own convention, no source. */
  public static final int ENOUGH = 8;

  private static final double LEVEL = 0.95;

  /**
   * A part taken for another.
   *
   * @param times how often
   * @param people by how many
   * @param answers about the part that was asked
   */
  public record Cell(ConceptId asked, ConceptId takenFor, int times, int people, int answers) {

    /** The share of the answers about the part. */
    public double share() {
      return (double) times / answers;
    }

    /** Whether there are enough answers to tell a share. */
    public boolean isEnough() {
      return answers >= ENOUGH;
    }
  }

  /**
   * Two parts taken for each other.
   *
   * @param times how often either was taken for the other
   * @param answers about either
   * @param low the lower limit of the share at 95 %, by E. B. Wilson's score interval (Journal of the American Statistical
   *     Association 22, 1927, 209-212)
   * @param high its upper limit
   */
  public record Pair(ConceptId first, ConceptId second, int times, int answers, double low, double high) {

    /** The share of the answers about either. */
    public double share() {
      return (double) times / answers;
    }

    /** Whether there are enough answers to tell a share. */
    public boolean isEnough() {
      return answers >= ENOUGH;
    }
  }

  /** Copies the collections. */
  public Confusion {
    cells = List.copyOf(cells);
    pairs = List.copyOf(pairs);
    answers = Map.copyOf(answers);
  }

  /**
   * The confusion that these counts show.
   *
   * @param mixUps each pair of parts once; a part that is taken for another was answered at least as often
   * @param answers how many there were about each part
   */
  public static Confusion of(List<MixUp> mixUps, Map<ConceptId, Integer> answers) {
    List<Cell> cells = mixUps.stream()
        .map(m -> new Cell(m.asked(), m.takenFor(), m.times(), m.people(), answers.get(m.asked()))).toList();
    Map<Set<ConceptId>, Integer> times = new HashMap<>();
    mixUps.forEach(m -> times.merge(Set.of(m.asked(), m.takenFor()), m.times(), Integer::sum));
    List<Pair> pairs = new ArrayList<>();
    times.forEach((two, n) -> pairs.add(pair(two.stream().sorted().toList(), n, answers)));
    pairs.sort(
        Comparator.comparing((Pair p) -> p.times() < 2).thenComparing(Comparator.comparingDouble(Pair::low).reversed())
            .thenComparing(Pair::first).thenComparing(Pair::second));
    return new Confusion(cells, pairs, answers);
  }

  private static Pair pair(List<ConceptId> two, int times, Map<ConceptId, Integer> answers) {
    int n = two.stream().mapToInt(part -> answers.getOrDefault(part, 0)).sum();
    ConfidenceInterval limits = BinomialProportion.getWilsonScoreInterval(n, (double) times / n, LEVEL);
    return new Pair(two.get(0), two.get(1), times, n, limits.getLowerBound(), limits.getUpperBound());
  }

  /** The pairs most worth teaching again: those that are surest to be mixed up, with more than one slip. */
  public List<Pair> toTeachAgain(int most) {
    return pairs.stream().filter(p -> p.times() > 1).limit(most).toList();
  }

  /** One part taken for another, if it ever was. */
  public Optional<Cell> cell(ConceptId asked, ConceptId takenFor) {
    return cells.stream().filter(c -> c.asked().equals(asked) && c.takenFor().equals(takenFor)).findFirst();
  }

  /** The parts of the surest pairs, as many as fit into a table of so many lines. */
  public List<ConceptId> parts(int most) {
    Set<ConceptId> parts = new LinkedHashSet<>();
    for (Pair pair : pairs) {
      Set<ConceptId> more = new LinkedHashSet<>(parts);
      more.add(pair.first());
      more.add(pair.second());
      if (more.size() <= most) {
        parts = more;
      }
    }
    return List.copyOf(parts);
  }

  /** The share of the answers about each part that named another one, of parts with enough answers. */
  public Map<ConceptId, Double> asked() {
    Map<ConceptId, Double> shares = new HashMap<>();
    answers.forEach((part, n) -> {
      if (n >= ENOUGH) {
        shares.put(part, 0.0);
      }
    });
    cells.stream().filter(Cell::isEnough).forEach(c -> shares.merge(c.asked(), c.share(), Double::sum));
    return shares;
  }

  /** The share of all mix-ups in which each part was the one that was named wrongly. */
  public Map<ConceptId, Double> named() {
    double all = cells.stream().mapToInt(Cell::times).sum();
    Map<ConceptId, Double> shares = new HashMap<>();
    cells.forEach(c -> shares.merge(c.takenFor(), c.times() / all, Double::sum));
    return shares;
  }
}

package ferrule.report.agreement;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * How graders agree, criterion by criterion and pair by pair, and which of them is the stricter.
 *
 * @param criteria for each criterion that was graded twice at least, in the order of their names
 * @param severities for each grader, the strictest first
 */
public record Agreement(List<OfCriterion> criteria, List<Severity> severities) {

  /**
   * Below so many pieces of work nothing is concluded: our own convention, no source. With ten pieces the interval of a
   * kappa is still about as wide as the words that it is read by.
   */
  public static final int ENOUGH = 10;

  /** Copies the lists. */
  public Agreement {
    criteria = List.copyOf(criteria);
    severities = List.copyOf(severities);
  }

  /**
   * One criterion.
   *
   * @param criterion its name
   * @param works how many pieces of work were graded at least twice
   * @param agreeing the share of pairs of graders that chose the same level
   * @param fleiss Fleiss' kappa; empty where everybody always chose one level or there is one piece of work
   * @param pairs the pairs of graders who graded the same work
   */
  public record OfCriterion(String criterion, int works, double agreeing, Optional<Estimate> fleiss, List<Pair> pairs) {

    /** What the figures say. */
    public Reading reading() {
      return Reading.of(works, agreeing, fleiss);
    }
  }

  /**
   * Two graders and one criterion: Cohen's kappa plain, with linear and with quadratic weights; empty where both always
   * chose one level.
   */
  public record Pair(
      UUID first,
      UUID second,
      int works,
      Optional<Estimate> plain,
      Optional<Estimate> linear,
      Optional<Estimate> quadratic) {}

  /**
   * How much higher a grader grades than the others do who graded the same work.
   *
   * @param grader who
   * @param works how many pieces of work that is from
   * @param difference in hundredths of the scale from the lowest level to the highest, averaged over the criteria of
   *     each piece of work; above 0 is milder; empty with fewer than two pieces of work
   */
  public record Severity(UUID grader, int works, Optional<Estimate> difference) {

    /** Whether there is enough work to say anything. */
    public boolean isEnough() {
      return works >= ENOUGH;
    }

    /** Whether the interval lies on one side of no difference, and there is enough work to say so. */
    public boolean isClear() {
      return isEnough() && difference.filter(d -> d.low() > 0 || d.high() < 0).isPresent();
    }
  }

  /** What an agreement says to people. */
  public enum Reading {
    /** Too little was graded twice. */
    TOO_FEW,
    /** Nearly all work was graded the same level, so that kappa says little. */
    ONE_LEVEL,
    /** Even the lower limit is good. */
    GOOD,
    /** Even the upper limit is poor. */
    POOR,
    /** The interval does not decide. */
    OPEN;

    // "substantial" begins at 0.6 and "fair" ends at 0.4 in Landis and Koch, Biometrics 33 (1977), from memory
    private static final double GOOD_FROM = 0.6;
    private static final double POOR_BELOW = 0.4;
    private static final double NEARLY_ALL = 0.9;

    static Reading of(int works, double agreeing, Optional<Estimate> kappa) {
      if (works < ENOUGH) {
        return TOO_FEW;
      }
      if (kappa.isEmpty() || (agreeing >= NEARLY_ALL && kappa.get().low() < GOOD_FROM)) {
        return ONE_LEVEL;
      }
      return kappa.get().low() >= GOOD_FROM ? GOOD : kappa.get().high() < POOR_BELOW ? POOR : OPEN;
    }
  }

  /** The agreement that these ratings show; work that only one grader rated says nothing. */
  public static Agreement of(List<Rating> ratings) {
    Map<String, List<Rating>> byCriterion =
        ratings.stream().collect(Collectors.groupingBy(Rating::criterion, TreeMap::new, Collectors.toList()));
    List<OfCriterion> criteria = new ArrayList<>();
    byCriterion.forEach((criterion, all) -> ofCriterion(criterion, all).ifPresent(criteria::add));
    return new Agreement(criteria, severities(ratings));
  }

  private static Map<UUID, List<Rating>> shared(List<Rating> ratings) {
    Map<UUID, List<Rating>> byWork =
        ratings.stream().collect(Collectors.groupingBy(Rating::work, LinkedHashMap::new, Collectors.toList()));
    byWork.values().removeIf(r -> r.size() < 2);
    return byWork;
  }

  private static Optional<OfCriterion> ofCriterion(String criterion, List<Rating> ratings) {
    Map<UUID, List<Rating>> byWork = shared(ratings);
    if (byWork.isEmpty()) {
      return Optional.empty();
    }
    int levels = ratings.stream().mapToInt(Rating::levels).max().orElseThrow();
    int[][] counts = byWork.values().stream().map(work -> counts(work, levels)).toArray(int[][]::new);
    Optional<Estimate> fleiss = counts.length < 2 ? Optional.empty() : FleissKappa.of(counts);
    return Optional.of(new OfCriterion(
        criterion, counts.length, FleissKappa.agreement(counts), fleiss, pairs(byWork.values(), levels)));
  }

  private static int[] counts(List<Rating> work, int levels) {
    int[] counts = new int[levels];
    work.forEach(r -> counts[r.level()]++);
    return counts;
  }

  private record Two(UUID first, UUID second) {}

  private static List<Pair> pairs(Iterable<List<Rating>> works, int levels) {
    Map<Two, int[][]> tables = new LinkedHashMap<>();
    for (List<Rating> work : works) {
      List<Rating> inOrder = work.stream().sorted(Comparator.comparing(Rating::grader)).toList();
      for (int i = 0; i < inOrder.size(); i++) {
        for (int j = i + 1; j < inOrder.size(); j++) {
          Two two = new Two(inOrder.get(i).grader(), inOrder.get(j).grader());
          tables.computeIfAbsent(two, t -> new int[levels][levels])[inOrder.get(i).level()][inOrder.get(j).level()]++;
        }
      }
    }
    List<Pair> pairs = new ArrayList<>();
    tables.forEach((two, table) -> pairs.add(new Pair(
        two.first(), two.second(), Arrays.stream(table).flatMapToInt(Arrays::stream).sum(),
        CohenKappa.of(table, CohenKappa.Weights.PLAIN), CohenKappa.of(table, CohenKappa.Weights.LINEAR),
        CohenKappa.of(table, CohenKappa.Weights.QUADRATIC))));
    return pairs;
  }

  private record OnWork(UUID grader, UUID work) {}

  private static List<Severity> severities(List<Rating> ratings) {
    // a piece of work is one observation, however many criteria it has: its criteria are not independent
    Map<OnWork, List<Double>> differences = new LinkedHashMap<>();
    ratings.stream().collect(Collectors.groupingBy(Rating::criterion, TreeMap::new, Collectors.toList())).values()
        .forEach(criterion -> shared(criterion).values().forEach(work -> {
          double all = work.stream().mapToDouble(Agreement::score).sum();
          for (Rating r : work) {
            double others = (all - score(r)) / (work.size() - 1);
            differences.computeIfAbsent(new OnWork(r.grader(), r.work()), k -> new ArrayList<>())
                .add(score(r) - others);
          }
        }));
    Map<UUID, List<Double>> byGrader = new LinkedHashMap<>();
    differences.forEach((on, of) -> byGrader.computeIfAbsent(on.grader(), g -> new ArrayList<>())
        .add(of.stream().mapToDouble(d -> d).average().orElseThrow()));
    List<Severity> severities = new ArrayList<>();
    byGrader.forEach((grader, of) -> severities.add(new Severity(grader, of.size(), mean(of))));
    severities.sort(Comparator.comparingDouble(s -> s.difference().map(Estimate::value).orElse(0.0)));
    return severities;
  }

  private static double score(Rating r) {
    return 100.0 * r.level() / (r.levels() - 1);
  }

  private static Optional<Estimate> mean(List<Double> of) {
    int n = of.size();
    if (n < 2) {
      return Optional.empty();
    }
    double mean = of.stream().mapToDouble(d -> d).average().orElseThrow();
    double variance = of.stream().mapToDouble(d -> (d - mean) * (d - mean)).sum() / (n - 1);
    return Optional.of(Estimate.student(mean, Math.sqrt(variance / n), n));
  }
}

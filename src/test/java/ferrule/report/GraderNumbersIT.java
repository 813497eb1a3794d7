package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.Conformity;
import ferrule.bench.Finding;
import ferrule.bench.Grade;
import ferrule.competency.AsOf;
import ferrule.people.Person;
import ferrule.report.wait.Waits;
import ferrule.store.Database;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.StatUtils;
import org.hipparchus.stat.descriptive.rank.Percentile;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Every number of the files of how graders agree, how soon they grade, and how long work waits, from the plain facts. */
class GraderNumbersIT extends ServedHistory {

  private static final double Z = 1.959963984540054;
  private static final int ENOUGH = 10;
  private static final int STEPS = 300;

  /** What one grader chose. */
  private record Judged(UUID work, String task, String criterion, UUID grader, int level, int levels) {

    double score() {
      return 100.0 * level / (levels - 1);
    }
  }

  /** A figure and its limits. */
  private record Interval(double value, double low, double high) {

    /** What stands in a file, of which the limits can be no further out than a kappa can be. */
    static Interval ofKappa(double value, double half) {
      return new Interval(value, Math.max(-1, value - half), Math.min(1, value + half));
    }

    /** All pieces of work agree alike: by Wilson's limits of the share that agrees. */
    static Interval ofShare(double observed, double expected, int n) {
      double middle = (observed + Z * Z / (2 * n)) / (1 + Z * Z / n);
      double half = Z * Math.sqrt(observed * (1 - observed) / n + Z * Z / (4.0 * n * n)) / (1 + Z * Z / n);
      return new Interval(
          (observed - expected) / (1 - expected), Math.max(-1, (middle - half - expected) / (1 - expected)),
          Math.min(1, (middle + half - expected) / (1 - expected)));
    }
  }

  private final List<Judged> judged = new ArrayList<>();
  private final Map<UUID, String> names = new HashMap<>();
  private int concluded;

  static Stream<Arguments> databases() {
    return databasesAndSeeds(71);
  }

  @ParameterizedTest
  @MethodSource("databases")
  void everyNumberIsThatOfThePlainFacts(Database database, long seed) {
    // often enough twice that something is concluded
    serve(database, RandomHistory.of(database, seed, STEPS, RandomHistory::gradeBlind));
    history.instructors().forEach(i -> names.put(i.id(), i.fullName()));
    judge();
    byCriterion();
    twoByTwo();
    whoIsStricter();
    howSoonTheyGrade();
    for (AsOf asOf : days(2)) {
      howLongWorkWaits(asOf);
    }
    assertTrue(concluded > 3, "the history has nothing to conclude from");
  }

  /** Who signed the work first, and who graded it without seeing that. */
  private void judge() {
    Set<UUID> twice = raw.gradedBlind.stream().map(RawRecords.GradedBlind::work).collect(Collectors.toSet());
    raw.signed.stream().filter(s -> twice.contains(s.record())).forEach(s -> judge(s.record(), s.by(), s.grade()));
    raw.gradedBlind.forEach(g -> judge(g.work(), g.by(), g.grade()));
  }

  private void judge(UUID work, UUID grader, Grade grade) {
    String task = RandomHistory.TASKS.find(grade.task()).orElseThrow().title();
    for (Finding f : grade.findings()) {
      if (f instanceof Finding.Rated r) {
        judged.add(new Judged(work, task, f.title(), grader, r.level() - 1, r.levels()));
      } else if (f instanceof Finding.Measured m) {
        List<Conformity> worstFirst = List.of(Conformity.NOT_CONFORMING, Conformity.UNDECIDED, Conformity.CONFORMING);
        judged.add(new Judged(work, task, f.title(), grader, worstFirst.indexOf(m.verdict()), 3));
      }
    }
  }

  /** What was chosen for a criterion, by piece of work. */
  private List<List<Judged>> works(String task, String criterion) {
    return List.copyOf(judged.stream().filter(j -> j.task().equals(task) && j.criterion().equals(criterion))
        .collect(Collectors.groupingBy(Judged::work, LinkedHashMap::new, Collectors.toList())).values());
  }

  private Set<List<String>> criteria() {
    Set<List<String>> criteria = new LinkedHashSet<>();
    judged.forEach(j -> criteria.add(List.of(j.task(), j.criterion())));
    return criteria;
  }

  // -- Fleiss' kappa

  private void byCriterion() {
    List<Map<String, String>> rows = rows("/graders/criteria.csv");
    assertEquals(criteria(), rows.stream().map(r -> List.of(r.get("task"), r.get("criterion"))).collect(Collectors.toSet()));
    assertEquals(criteria().size(), rows.size());
    for (Map<String, String> row : rows) {
      List<List<Judged>> works = works(row.get("task"), row.get("criterion"));
      assertEquals(Integer.toString(works.size()), row.get("works"), row.toString());
      assertNumber(agreeing(works), row.get("same level"), row.toString());
      assertEquals(works.size() >= ENOUGH ? "true" : "false", row.get("enough"), row.toString());
      assertInterval(works.size() < 2 ? Optional.empty() : fleiss(works), row, "kappa");
      concluded += works.size() >= ENOUGH ? 1 : 0;
    }
  }

  /** For each piece of work the share of the pairs of its graders that agree, and of these the mean. */
  private static double agreeing(List<List<Judged>> works) {
    double sum = 0;
    for (List<Judged> work : works) {
      double same = 0;
      double pairs = 0;
      for (Judged a : work) {
        for (Judged b : work) {
          pairs += a == b ? 0 : 1;
          same += a != b && a.level() == b.level() ? 1 : 0;
        }
      }
      sum += same / pairs;
    }
    return sum / works.size();
  }

  /** How likely two grades drawn from all, the same one twice allowed, are of one level. */
  private static double byChance(List<List<Judged>> works) {
    List<Judged> all = works.stream().flatMap(List::stream).toList();
    double same = 0;
    for (Judged a : all) {
      same += all.stream().filter(b -> b.level() == a.level()).count();
    }
    return same / all.size() / all.size();
  }

  private static double kappa(List<List<Judged>> works) {
    double chance = byChance(works);
    return chance == 1 ? 1 : (agreeing(works) - chance) / (1 - chance);
  }

  private static Optional<Interval> fleiss(List<List<Judged>> works) {
    if (byChance(works) == 1) {
      return Optional.empty();
    }
    int n = works.size();
    double[] without = new double[n];
    for (int i = 0; i < n; i++) {
      List<List<Judged>> left = new ArrayList<>(works);
      left.remove(i);
      without[i] = kappa(left);
    }
    double error = Math.sqrt((n - 1.0) * StatUtils.populationVariance(without));
    return Optional.of(
        error < 1e-6 ? Interval.ofShare(agreeing(works), byChance(works), n)
            : Interval.ofKappa(kappa(works), error * new TDistribution(n - 1).inverseCumulativeProbability(0.975)));
  }

  // -- Cohen's kappa

  private void twoByTwo() {
    List<Map<String, String>> rows = rows("/graders/pairs.csv");
    int expected = 0;
    for (List<String> criterion : criteria()) {
      for (Person a : history.instructors()) {
        for (Person b : history.instructors()) {
          List<Judged[]> both = both(works(criterion.get(0), criterion.get(1)), a.id(), b.id());
          expected += a.id().compareTo(b.id()) < 0 && !both.isEmpty() ? 1 : 0;
        }
      }
    }
    assertEquals(expected, rows.size());
    for (Map<String, String> row : rows) {
      List<Judged[]> both = both(
          works(row.get("task"), row.get("criterion")), named(row.get("first grader")), named(row.get("second grader")));
      assertEquals(Integer.toString(both.size()), row.get("works"), row.toString());
      double most = both.get(0)[0].levels() - 1;
      assertInterval(cohen(both, (a, b) -> a == b ? 1 : 0), row, "kappa");
      assertInterval(cohen(both, (a, b) -> 1 - Math.abs(a - b) / most), row, "linear");
      assertInterval(cohen(both, (a, b) -> 1 - (a - b) * (a - b) / (most * most)), row, "quadratic");
    }
  }

  private UUID named(String name) {
    return names.keySet().stream().filter(id -> names.get(id).equals(name)).findFirst().orElseThrow();
  }

  private static List<Judged[]> both(List<List<Judged>> works, UUID first, UUID second) {
    List<Judged[]> both = new ArrayList<>();
    for (List<Judged> work : works) {
      for (Judged a : work) {
        for (Judged b : work) {
          if (a != b && a.grader().equals(first) && b.grader().equals(second)) {
            both.add(new Judged[] {a, b});
          }
        }
      }
    }
    return both;
  }

  /** What chance would bring about is every grade of the one beside every grade of the other. */
  private static Optional<Interval> cohen(List<Judged[]> both, ToDoubleBiFunction<Integer, Integer> weight) {
    int n = both.size();
    double observed = both.stream().mapToDouble(w -> weight.applyAsDouble(w[0].level(), w[1].level())).sum() / n;
    double chance = both.stream().mapToDouble(w -> beside(both, 1, w[0], weight)).sum() / n;
    if (chance > 1 - 1e-12) {
      return Optional.empty();
    }
    double[] terms = both.stream()
        .mapToDouble(w -> weight.applyAsDouble(w[0].level(), w[1].level()) * (1 - chance)
            - (beside(both, 1, w[0], weight) + beside(both, 0, w[1], weight)) * (1 - observed))
        .toArray();
    double error = Math.sqrt(StatUtils.populationVariance(terms) / n) / (1 - chance) / (1 - chance);
    return Optional.of(
        error < 1e-6 ? Interval.ofShare(observed, chance, n)
            : Interval.ofKappa((observed - chance) / (1 - chance), Z * error));
  }

  /** How much a grade agrees with all grades of one of two graders. */
  private static double beside(List<Judged[]> both, int which, Judged one, ToDoubleBiFunction<Integer, Integer> weight) {
    return both.stream().mapToDouble(w -> weight.applyAsDouble(w[which].level(), one.level())).average().orElseThrow();
  }

  // -- who is stricter

  private void whoIsStricter() {
    List<Map<String, String>> rows = rows("/graders.csv");
    Map<UUID, Map<UUID, List<Double>>> differences = new HashMap<>();
    for (List<String> criterion : criteria()) {
      for (List<Judged> work : works(criterion.get(0), criterion.get(1))) {
        for (Judged own : work) {
          double others =
              work.stream().filter(o -> o != own).mapToDouble(Judged::score).average().orElseThrow();
          differences.computeIfAbsent(own.grader(), g -> new TreeMap<>())
              .computeIfAbsent(own.work(), w -> new ArrayList<>()).add(own.score() - others);
        }
      }
    }
    assertEquals(differences.size(), rows.size());
    for (Map<String, String> row : rows) {
      double[] of = differences.get(named(row.get("grader"))).values().stream()
          .mapToDouble(w -> w.stream().mapToDouble(d -> d).average().orElseThrow()).toArray();
      int n = of.length;
      assertEquals(Integer.toString(n), row.get("works"), row.toString());
      double half = n < 2 ? 0
          : new TDistribution(n - 1).inverseCumulativeProbability(0.975) * Math.sqrt(StatUtils.variance(of) / n);
      double mean = StatUtils.mean(of);
      assertInterval(
          n < 2 ? Optional.empty() : Optional.of(new Interval(mean, mean - half, mean + half)), row, "difference");
      assertEquals(n >= ENOUGH && Math.abs(mean) > half ? "true" : "false", row.get("clear"), row.toString());
      concluded += n >= ENOUGH ? 1 : 0;
    }
  }

  private static void assertInterval(Optional<Interval> expected, Map<String, String> row, String name) {
    if (expected.isEmpty()) {
      assertEquals("", row.get(name) + row.get(name + " from") + row.get(name + " to"), row.toString());
      return;
    }
    assertNumber(expected.get().value(), row.get(name), row.toString());
    assertNumber(expected.get().low(), row.get(name + " from"), row.toString());
    assertNumber(expected.get().high(), row.get(name + " to"), row.toString());
  }

  // -- how soon they grade

  private List<Waits.Work> works(AsOf asOf) {
    return OverTimeIT.works(history, asOf, history.apprentices().stream().map(Person::id).collect(Collectors.toSet()));
  }

  private static double hours(Instant from, Instant to) {
    return Duration.between(from, to).toMillis() / 3_600_000.0;
  }

  private void howSoonTheyGrade() {
    List<Map<String, String>> rows = rows("/graders/turnaround.csv");
    Map<UUID, List<Waits.Work>> graded = works(history.desk().now()).stream().filter(w -> w.graded().isPresent())
        .collect(Collectors.groupingBy(w -> w.grader().orElseThrow()));
    assertEquals(
        graded.keySet().stream().map(names::get).collect(Collectors.toSet()),
        rows.stream().map(r -> r.get("grader")).collect(Collectors.toSet()));
    for (Map<String, String> row : rows) {
      List<Waits.Work> own = graded.get(named(row.get("grader")));
      assertEquals(Integer.toString(own.size()), row.get("graded"), row.toString());
      quartilesAre(own.stream().mapToDouble(w -> hours(w.asked(), w.graded().orElseThrow())).toArray(), row, "from ready");
      quartilesAre(
          own.stream().mapToDouble(w -> hours(w.taken().orElseThrow(), w.graded().orElseThrow())).toArray(), row, "from taking");
      concluded += own.size() >= ENOUGH ? 1 : 0;
    }
  }

  private static void quartilesAre(double[] hours, Map<String, String> row, String name) {
    Map<String, Double> shares = Map.of(", a quarter within", 25.0, ", half within", 50.0, ", three quarters within", 75.0);
    shares.forEach((words, percent) -> {
      if (hours.length < ENOUGH) {
        assertEquals("", row.get(name + words + " (h)"), row.toString());
      } else {
        double value = new Percentile().withEstimationType(Percentile.EstimationType.R_7).evaluate(hours, percent);
        assertNumber(value, row.get(name + words + " (h)"), row.toString());
      }
    });
  }

  // -- how long work waits

  /** At each time at which something was graded: the product of the shares that waited on, over all such times so far. */
  private void howLongWorkWaits(AsOf asOf) {
    List<Map<String, String>> rows = rows("/bench-over-time/waits.csv" + asOf.query());
    List<Waits.Work> works = works(asOf);
    double[] waited = works.stream()
        .mapToDouble(w -> Math.max(0, hours(w.asked(), w.graded().or(w::givenUp).orElse(asOf.instant())))).toArray();
    double[] ends = works.stream().filter(w -> w.graded().isPresent())
        .mapToDouble(w -> hours(w.asked(), w.graded().orElseThrow())).distinct().sorted().toArray();
    assertEquals(ends.length, rows.size());
    double waiting = 1;
    double sum = 0;
    for (int i = 0; i < ends.length; i++) {
      double end = ends[i];
      Map<String, String> row = rows.get(i);
      long atRisk = Arrays.stream(waited).filter(w -> w >= end).count();
      long ended = works.stream()
          .filter(w -> w.graded().isPresent() && hours(w.asked(), w.graded().orElseThrow()) == end).count();
      waiting *= (double) (atRisk - ended) / atRisk;
      sum += (double) ended / atRisk / (atRisk - ended);
      assertNumber(end, row.get("after (h)"), row.toString());
      assertEquals(Long.toString(atRisk), row.get("waited so long"), row.toString());
      assertEquals(Long.toString(ended), row.get("graded"), row.toString());
      assertNumber(waiting, row.get("still waiting"), row.toString());
      // the limits of log(-log S), turned back
      double place = Math.log(-Math.log(waiting));
      double half = Z * Math.sqrt(sum) / -Math.log(waiting);
      boolean none = atRisk == ended;
      assertNumber(none ? 0 : waiting * Math.sqrt(sum), row.get("standard error"), row.toString());
      assertNumber(none ? 0 : Math.exp(-Math.exp(place + half)), row.get("from"), row.toString());
      assertNumber(none ? 0 : Math.exp(-Math.exp(place - half)), row.get("to"), row.toString());
      concluded++;
    }
  }
}

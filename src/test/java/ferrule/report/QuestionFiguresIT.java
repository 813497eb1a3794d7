package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.drill.Scored;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.report.items.Distractor;
import ferrule.store.Database;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.hipparchus.distribution.continuous.FDistribution;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.SingularValueDecomposition;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The figures of questions and of the answers to them, recounted from the plain facts of random histories. */
class QuestionFiguresIT {

  private static final int FEW = 8;
  private static final double STEP = 1e-4;

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyFigureIsThatOfTheFirstAnswersAsTheyCountNow(Database database) {
    RandomHistory history = RandomHistory.of(database, 31, 700);
    RawRecords raw = history.raw();
    Instant now = history.clock().instant();
    for (Cohort cohort : history.cohorts()) {
      List<UUID> set = raw.set.stream().filter(s -> s.cohort().equals(cohort.id())).map(RawRecords.Set::assignment).toList();
      Set<UUID> sittings = new HashSet<>();
      raw.sat.stream().filter(s -> s.assignment().filter(set::contains).isPresent()).forEach(s -> sittings.add(s.sitting()));
      Map<List<Object>, RawRecords.Answered> first = new LinkedHashMap<>();
      raw.answered.stream().filter(a -> sittings.contains(a.sitting()) && a.kind().asksAboutPart())
          .forEach(a -> first.putIfAbsent(List.of(a.person(), a.kind(), a.part()), a));
      Set<Scored> expected = new HashSet<>();
      first.values().forEach(a -> expected.add(new Scored(a.person(), a.kind(), a.part(), raw.credit(a, now))));
      List<Scored> all = history.drills().firstAnswers(set);
      assertEquals(expected, new HashSet<>(all));
      assertEquals(expected.size(), all.size());
      checkQuestions(all, first.values(), now, raw);
      for (ConceptId part : all.stream().map(Scored::part).distinct().toList()) {
        checkAnswers(history, part, set, all, first.values().stream().filter(a -> a.part().equals(part)).toList());
      }
    }
    // the drills of one cohort overlap too little for every figure: so all answers together, and those about few parts
    for (int parts : List.of(3, 4, 6, 1_000)) {
      checkAllTogether(raw, now, parts);
    }
    assertTrue(
        discriminations > 0 && reliabilities > 0 && scales > 0 && errors > 0,
        discriminations + " discriminations, " + reliabilities + " reliabilities, " + scales + " scales, " + errors + " errors");
  }

  // -- by part: one item in whatever way it was asked

  private int discriminations;
  private int reliabilities;
  private int scales;
  private int errors;

  private void checkQuestions(
      List<Scored> all, Collection<RawRecords.Answered> first, Instant now, RawRecords raw) {
    Map<ConceptId, Map<UUID, Double>> credits = new LinkedHashMap<>();
    all.forEach(s -> credits.putIfAbsent(s.part(), new LinkedHashMap<>()));
    first.forEach(a -> credits.get(a.part()).putIfAbsent(a.person(), raw.credit(a, now)));
    Questions questions = Questions.of(all);
    assertEquals(credits.keySet(), questions.lines().stream().map(Questions.Line::part).collect(Collectors.toSet()));
    for (Questions.Line line : questions.lines()) {
      Map<UUID, Double> own = credits.get(line.part());
      assertEquals(own.size(), line.figures().asked());
      assertEquals(mean(own.values()), line.figures().difficulty(), 1e-9);
      checkDiscrimination(line, credits);
    }
    for (Questions.Way way : questions.ways()) {
      List<Double> of = first.stream().filter(a -> a.kind() == way.kind()).map(a -> raw.credit(a, now)).toList();
      assertEquals(of.size(), way.answers());
      assertEquals(mean(of), way.right(), 1e-9);
    }
    checkReliability(questions, credits);
    checkScale(questions, credits);
  }

  /** The first answers of everybody about so many parts, those that were asked most. */
  private void checkAllTogether(RawRecords raw, Instant now, int parts) {
    Map<ConceptId, Long> asked = raw.answered.stream().filter(a -> a.kind().asksAboutPart())
        .collect(Collectors.groupingBy(RawRecords.Answered::part, Collectors.counting()));
    Set<ConceptId> most = asked.keySet().stream()
        .sorted(Comparator.comparing((ConceptId part) -> -asked.get(part)).thenComparing(ConceptId::value)).limit(parts)
        .collect(Collectors.toSet());
    Map<List<Object>, RawRecords.Answered> first = new LinkedHashMap<>();
    raw.answered.stream().filter(a -> a.kind().asksAboutPart() && most.contains(a.part()))
        .forEach(a -> first.putIfAbsent(List.of(a.person(), a.kind(), a.part()), a));
    List<Scored> all = first.values().stream()
        .map(a -> new Scored(a.person(), a.kind(), a.part(), raw.credit(a, now))).toList();
    checkQuestions(all, first.values(), now, raw);
  }

  private static double mean(Collection<Double> of) {
    return of.stream().mapToDouble(d -> d).sum() / of.size();
  }

  /** Pearson's correlation, written out, of the score on the part with the mean score on the person's other parts. */
  private void checkDiscrimination(Questions.Line line, Map<ConceptId, Map<UUID, Double>> credits) {
    List<Double> own = new ArrayList<>();
    List<Double> rest = new ArrayList<>();
    credits.get(line.part()).forEach((who, credit) -> {
      List<Double> others = credits.entrySet().stream()
          .filter(e -> !e.getKey().equals(line.part()) && e.getValue().containsKey(who))
          .map(e -> e.getValue().get(who)).toList();
      if (!others.isEmpty()) {
        own.add(credit);
        rest.add(mean(others));
      }
    });
    line.figures().discrimination().ifPresent(told -> {
      discriminations++;
      assertEquals(products(own, rest) / Math.sqrt(products(own, own) * products(rest, rest)), told, 1e-9);
    });
  }

  private static double products(List<Double> a, List<Double> b) {
    double sum = 0;
    for (int i = 0; i < a.size(); i++) {
      sum += (a.get(i) - mean(a)) * (b.get(i) - mean(b));
    }
    return sum;
  }

  /** Alpha of the block of parts that were asked most, with those who were asked them all, that has most scores. */
  private void checkReliability(Questions questions, Map<ConceptId, Map<UUID, Double>> credits) {
    List<Map<UUID, Double>> items = new ArrayList<>(credits.values());
    items.sort((a, b) -> b.size() - a.size());
    int largest = 0;
    List<List<Double>> block = List.of();
    for (int k = 1; k <= items.size(); k++) {
      List<Map<UUID, Double>> those = items.subList(0, k);
      List<UUID> all = those.get(0).keySet().stream()
          .filter(who -> those.stream().allMatch(i -> i.containsKey(who))).toList();
      if (all.size() * k > largest) {
        largest = all.size() * k;
        block = those.stream().map(i -> all.stream().map(i::get).toList()).toList();
      }
    }
    int k = block.size();
    int n = k == 0 ? 0 : block.get(0).size();
    List<List<Double>> asked = block;
    List<Double> totals = IntStream.range(0, n)
        .mapToObj(p -> asked.stream().mapToDouble(i -> i.get(p)).sum()).toList();
    double ofTotals = n < 2 ? 0 : products(totals, totals) / (n - 1);
    assertEquals(k > 1 && ofTotals > 0, questions.reliability().isPresent());
    questions.reliability().ifPresent(told -> {
      reliabilities++;
      double ofItems = asked.stream().mapToDouble(i -> products(i, i) / (n - 1)).sum();
      double alpha = (double) k / (k - 1) * (1 - ofItems / ofTotals);
      FDistribution f = new FDistribution(n - 1, (n - 1) * (k - 1));
      assertEquals(List.of(n, k), List.of(told.persons(), told.items()));
      assertEquals(alpha, told.alpha(), 1e-9);
      assertEquals(Math.sqrt(ofTotals) * Math.sqrt(Math.max(0, 1 - alpha)), told.standardError(), 1e-9);
      // Feldt's interval: the ratio of what is not reliable, told and true, is distributed as F
      assertEquals(0.975, f.cumulativeProbability((1 - told.low()) / (1 - alpha)), 1e-7);
      assertEquals(0.025, f.cumulativeProbability((1 - told.high()) / (1 - alpha)), 1e-7);
    });
  }

  /**
   * At the largest conditional likelihood every part was answered right as often as the model expects, given how many
   * answers each person had right (E. B. Andersen, 1972, Journal of the Royal Statistical Society B 34).
   */
  private void checkScale(Questions questions, Map<ConceptId, Map<UUID, Double>> credits) {
    if (questions.lines().stream().anyMatch(l -> l.place().isEmpty())) {
      return;
    }
    scales++;
    Map<ConceptId, Double> hardness = new LinkedHashMap<>();
    questions.lines().forEach(l -> hardness.put(l.part(), l.place().orElseThrow().difficulty()));
    surplus(hardness, credits).forEach((part, more) -> assertEquals(0, more, 1e-6, part.value()));
    if (hardness.size() <= FEW) {
      checkErrors(questions, hardness, credits);
    }
  }

  /** How many more right answers each part has than the model expects. */
  private static Map<ConceptId, Double> surplus(
      Map<ConceptId, Double> hardness, Map<ConceptId, Map<UUID, Double>> credits) {
    Map<ConceptId, Double> easiness = new LinkedHashMap<>();
    hardness.forEach((part, b) -> easiness.put(part, Math.exp(-b)));
    Map<ConceptId, Double> surplus = new LinkedHashMap<>();
    Set<UUID> people = new HashSet<>();
    credits.values().forEach(of -> people.addAll(of.keySet()));
    for (UUID who : people) {
      List<ConceptId> asked = credits.keySet().stream().filter(part -> credits.get(part).containsKey(who)).toList();
      int right = (int) asked.stream().filter(part -> credits.get(part).get(who) >= 1).count();
      for (ConceptId part : asked) {
        double[] without = ways(asked.stream().filter(o -> !o.equals(part)).map(easiness::get).toList());
        double with = right == 0 ? 0 : easiness.get(part) * without[right - 1];
        double expected = with / (with + (right < asked.size() ? without[right] : 0));
        surplus.merge(part, (credits.get(part).get(who) >= 1 ? 1 : 0) - expected, Double::sum);
      }
    }
    return surplus;
  }

  /**
   * The errors of maximum likelihood: the square roots of the diagonal of the inverse of the curvature, which is taken here by
   * differences of the surplus; nothing tells a shift of all parts at once, so it is the inverse of Moore and Penrose.
   */
  private void checkErrors(
      Questions questions, Map<ConceptId, Double> hardness, Map<ConceptId, Map<UUID, Double>> credits) {
    List<ConceptId> parts = List.copyOf(hardness.keySet());
    double[][] curvature = new double[parts.size()][parts.size()];
    for (int j = 0; j < parts.size(); j++) {
      Map<ConceptId, Double> more = surplus(moved(hardness, parts.get(j), STEP), credits);
      Map<ConceptId, Double> less = surplus(moved(hardness, parts.get(j), -STEP), credits);
      for (int i = 0; i < parts.size(); i++) {
        curvature[i][j] = (more.get(parts.get(i)) - less.get(parts.get(i))) / (2 * STEP);
      }
    }
    SingularValueDecomposition parted = new SingularValueDecomposition(new Array2DRowRealMatrix(curvature));
    double[] turned = parted.getSingularValues();
    RealMatrix inverse = parted.getV()
        .multiply(MatrixUtils.createRealDiagonalMatrix(Arrays.stream(turned).map(d -> d > 1e-6 ? 1 / d : 0).toArray()))
        .multiply(parted.getUT());
    assertEquals(parts.size() - 1, Arrays.stream(turned).filter(d -> d > 1e-6).count());
    for (Questions.Line line : questions.lines()) {
      int i = parts.indexOf(line.part());
      double expected = Math.sqrt(inverse.getEntry(i, i));
      assertEquals(expected, line.place().orElseThrow().standardError(), 1e-5 * expected, line.part().value());
      errors++;
    }
  }

  private static Map<ConceptId, Double> moved(Map<ConceptId, Double> hardness, ConceptId part, double by) {
    Map<ConceptId, Double> moved = new LinkedHashMap<>(hardness);
    moved.merge(part, by, Double::sum);
    return moved;
  }

  /** The sums of the products of so many of these numbers, for none of them, one, two and so on. */
  private static double[] ways(List<Double> of) {
    double[] sums = new double[of.size() + 1];
    sums[0] = 1;
    for (int i = 0; i < of.size(); i++) {
      for (int r = i + 1; r > 0; r--) {
        sums[r] += sums[r - 1] * of.get(i);
      }
    }
    return sums;
  }

  private static void checkAnswers(
      RandomHistory history, ConceptId part, List<UUID> set, List<Scored> all, List<RawRecords.Answered> plain) {
    Instant now = history.clock().instant();
    AnswersToPart answers =
        AnswersToPart.of(part, history.drills().firstAnswersAbout(part, set), all, new PartNames(RandomHistory.TRUMPET));
    Map<UUID, List<Double>> others = new LinkedHashMap<>();
    Set<List<Object>> seen = new HashSet<>();
    for (Scored s : all) {
      if (!s.part().equals(part) && seen.add(List.of(s.person(), s.part()))) {
        others.computeIfAbsent(s.person(), p -> new ArrayList<>()).add(s.credit());
      }
    }
    for (Map.Entry<ItemKind, List<Distractor>> way : answers.ways().entrySet()) {
      List<RawRecords.Answered> those = plain.stream().filter(a -> a.kind() == way.getKey()).toList();
      assertEquals(those.size(), way.getValue().stream().mapToInt(Distractor::chosen).sum());
      long right = way.getKey().isChosen()
          ? those.stream().filter(a -> a.chosen().equals(a.key())).count()
          : those.stream().filter(a -> history.raw().credit(a, now) > 0).count();
      assertEquals(right, way.getValue().stream().filter(Distractor::right).mapToInt(Distractor::chosen).sum());
      if (!way.getKey().isChosen()) {
        for (Distractor d : way.getValue()) {
          if (!d.right()) {
            List<RawRecords.Answered> gave = those.stream()
                .filter(a -> history.raw().credit(a, now) == 0)
                .filter(a -> history.raw().takenFor(a, now).map(new PartNames(RandomHistory.TRUMPET)::term)
                    .orElse(a.phrase().filter(p -> !p.isEmpty()).isPresent() ? "nothing that is read as a part" : "I do not know")
                    .equals(d.answer()))
                .toList();
            assertEquals(gave.size(), d.chosen(), d.answer());
            gave.stream().filter(a -> others.containsKey(a.person()))
                .mapToDouble(a -> others.get(a.person()).stream().mapToDouble(s -> s).average().orElseThrow()).average()
                .ifPresent(mean -> assertEquals(mean, d.rest().orElseThrow(), 1e-9));
          }
        }
      }
    }
  }
}

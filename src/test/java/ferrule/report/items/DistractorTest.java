package ferrule.report.items;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.report.items.Distractor.Given;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SplittableRandom;
import org.hipparchus.stat.descriptive.moment.Mean;
import org.hipparchus.stat.descriptive.moment.StandardDeviation;
import org.junit.jupiter.api.Test;

class DistractorTest {

  private static final Set<String> ALL = Set.of("bell", "rim", "tube", "cap");
  private static final Set<String> KEY = Set.of("bell");

  private static List<Given> given(String answer, int times, double rest) {
    List<Given> all = new ArrayList<>();
    for (int i = 0; i < times; i++) {
      all.add(new Given(answer, ALL, KEY, OptionalDouble.of(rest + 0.001 * i)));
    }
    return all;
  }

  private static Distractor find(List<Distractor> all, String answer) {
    return all.stream().filter(d -> d.answer().equals(answer)).findFirst().orElseThrow();
  }

  @Test
  void whatIsWrongIsToldApartFromWhatWorks() {
    List<Given> all = new ArrayList<>(given("bell", 14, 0.6));
    all.addAll(given("rim", 6, 0.3));
    all.addAll(given("tube", 5, 0.9));
    List<Distractor> found = Distractor.of(all);
    assertEquals("bell", found.get(0).answer());
    assertEquals(Distractor.Advice.KEY, found.get(0).advice());
    assertEquals(Distractor.Advice.WORKS, find(found, "rim").advice());
    assertEquals(Distractor.Advice.DRAWS_THE_BETTER, find(found, "tube").advice());
    assertEquals(Distractor.Advice.UNUSED, find(found, "cap").advice(), "offered to 25 and chosen by nobody");
    assertEquals(6.0 / 25, find(found, "rim").share(), 1e-12);
  }

  @Test
  void withFewerThanTwentyNothingIsSaid() {
    List<Given> all = new ArrayList<>(given("bell", 13, 0.6));
    all.addAll(given("tube", 6, 0.9));
    assertEquals(19, find(Distractor.of(all), "tube").offered());
    assertEquals(Distractor.Advice.TOO_FEW, find(Distractor.of(all), "tube").advice());
  }

  @Test
  void aNameThatNobodyTypedIsNoUnusedOption() {
    List<Given> all = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      all.add(new Given(i == 0 ? "rim" : "bell", Set.of(), KEY, OptionalDouble.of(0.5 + i / 100.0)));
    }
    assertEquals(2, Distractor.of(all).size());
    assertEquals(Distractor.Advice.WORKS, find(Distractor.of(all), "rim").advice());
  }

  /** The textbook form of the point-biserial correlation, over the library's means and deviations. */
  @Test
  void theCorrelationIsThePointBiserialOnRandomAnswers() {
    for (long seed = 0; seed < 100; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      List<Given> all = new ArrayList<>();
      List<String> answers = List.of("bell", "rim", "tube", "cap");
      for (int i = 0; i < 5 + random.nextInt(60); i++) {
        all.add(new Given(answers.get(random.nextInt(4)), ALL, KEY, OptionalDouble.of(random.nextDouble())));
      }
      for (Distractor d : Distractor.of(all)) {
        double[] those = all.stream().filter(g -> g.answer().equals(d.answer())).mapToDouble(g -> g.rest().orElseThrow()).toArray();
        double[] others = all.stream().filter(g -> !g.answer().equals(d.answer())).mapToDouble(g -> g.rest().orElseThrow()).toArray();
        double[] every = all.stream().mapToDouble(g -> g.rest().orElseThrow()).toArray();
        assertEquals(those.length, d.chosen());
        if (those.length == 0 || others.length == 0) {
          assertTrue(d.correlation().isEmpty());
          continue;
        }
        double p = (double) those.length / every.length;
        double expected = (new Mean().evaluate(those) - new Mean().evaluate(others))
            / new StandardDeviation(false).evaluate(every) * Math.sqrt(p * (1 - p));
        assertEquals(expected, d.correlation().orElseThrow(), 1e-9);
        assertEquals(new Mean().evaluate(those), d.rest().orElseThrow(), 1e-9);
      }
    }
  }
}

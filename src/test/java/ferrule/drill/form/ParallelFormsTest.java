package ferrule.drill.form;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;

class ParallelFormsTest {

  private static final int PAIRS = 1_000;

  /** A table of 3 to 6 cells over parts that several cells can ask about, with chances as apprentices have them. */
  private static List<Cell<String>> table(SplittableRandom random) {
    int parts = random.nextInt(40, 160);
    int cells = random.nextInt(3, 7);
    List<Cell<String>> table = new ArrayList<>();
    for (int c = 0; c < cells; c++) {
      double kind = random.nextDouble(-0.2, 0.2);
      int from = random.nextInt(parts / 2);
      int to = from + random.nextInt(15, parts / 2 + 1);
      List<Candidate<String>> candidates = new ArrayList<>();
      for (int part = from; part < Math.min(parts, to); part++) {
        double chance = Math.max(0.02, Math.min(0.98, 0.55 + kind + random.nextGaussian() * 0.2));
        candidates.add(new Candidate<>("cell " + c + " part " + part, "part " + part, chance, random.nextInt(1, 4)));
      }
      table.add(new Cell<>(random.nextInt(2, 10), candidates));
    }
    return table;
  }

  private static long subjects(List<Cell<String>> table) {
    return table.stream().flatMap(cell -> cell.candidates().stream()).map(Candidate::once).distinct().count();
  }

  private static int size(List<Cell<String>> table) {
    return table.stream().mapToInt(Cell::number).sum();
  }

  @Test
  void theScoresToExpectOfTwoFormsDifferByAtMostOneHundredthOfTheHighest() {
    double worst = 0;
    int alike = 0;
    int alikeWithChoice = 0;
    for (int pair = 0; pair < PAIRS; pair++) {
      List<Cell<String>> table = table(new SplittableRandom(pair));
      List<Form<String>> forms = new ParallelForms<>(table).forms(2, pair);
      // the sum of the chances again, from the table and not by the form's own method
      double[] expected =
          forms.stream().mapToDouble(f -> f.items().stream().mapToDouble(Candidate::chance).sum()).toArray();
      worst = Math.max(worst, Math.abs(expected[0] - expected[1]) / size(table));
      if (Set.copyOf(forms.get(0).items()).equals(Set.copyOf(forms.get(1).items()))) {
        alike++;
        alikeWithChoice += subjects(table) >= 2 * size(table) ? 1 : 0;
      }
    }
    System.out.printf(
        Locale.ROOT, "parallel forms: %d pairs, the scores to expect differ by at most %.3f %% of the highest; %d pairs alike%n",
        PAIRS, 100 * worst, alike);
    assertTrue(worst <= ParallelForms.TOLERANCE, worst + " of the highest score");
    assertEquals(0, alikeWithChoice, "where there is twice as much as is asked, two forms are not the same");
  }

  @Property(tries = 200)
  void everyCellHasItsNumberAndNothingIsAskedTwice(@ForAll @LongRange(min = 0, max = 100_000) long seed) {
    List<Cell<String>> table = table(new SplittableRandom(seed));
    ParallelForms<String> forms = new ParallelForms<>(table);
    Form<String> form = forms.form(0, seed);
    if (forms.isEnough()) {
      for (int c = 0; c < table.size(); c++) {
        assertEquals(table.get(c).number(), form.cells().get(c).size());
        assertTrue(table.get(c).candidates().containsAll(form.cells().get(c)));
      }
    }
    List<String> subjects = form.items().stream().map(Candidate::once).toList();
    assertEquals(subjects.size(), new HashSet<>(subjects).size(), "something is asked twice: " + subjects);
  }

  @Property(tries = 50)
  void aSeedGivesTheSameFormAgain(@ForAll @LongRange(min = 0, max = 100_000) long seed) {
    assertEquals(
        new ParallelForms<>(table(new SplittableRandom(seed))).forms(3, seed),
        new ParallelForms<>(table(new SplittableRandom(seed))).forms(3, seed));
  }

  private static List<Candidate<String>> about(String cell, String... subjects) {
    return List.of(subjects).stream().map(s -> new Candidate<>(cell + s, s, 0.5, 1)).toList();
  }

  @Test
  void tightCellsAreFilledWhateverTheLotSays() {
    // the second cell has only two to choose from, both of which the first one would like to have
    List<Cell<String>> table =
        List.of(new Cell<>(2, about("name ", "a", "b", "c", "d")), new Cell<>(2, about("find ", "a", "b")));
    for (long seed = 0; seed < 50; seed++) {
      Form<String> form = new ParallelForms<>(table).form(0, seed);
      assertEquals(Set.of("c", "d"), Set.copyOf(form.cells().get(0).stream().map(Candidate::once).toList()));
      assertEquals(2, form.cells().get(1).size());
    }
  }

  @Test
  void aTableThatAsksForMoreThanThereIsSaysSo() {
    List<Cell<String>> table = List.of(new Cell<>(2, about("name ", "a", "b")), new Cell<>(1, about("find ", "a", "b")));
    ParallelForms<String> forms = new ParallelForms<>(table);
    assertFalse(forms.isEnough());
    assertEquals(2, forms.form(0, 1).items().size());
  }

  @Test
  void whatIsWantedMoreComesMoreOften() {
    List<Candidate<String>> parts =
        IntStream.range(0, 20).mapToObj(i -> new Candidate<>("" + i, "" + i, 0.5, i == 0 ? 10 : 1)).toList();
    ParallelForms<String> forms = new ParallelForms<>(List.of(new Cell<>(2, parts)));
    long with = IntStream.range(0, 400).filter(i -> forms.form(i, 7).items().contains(parts.get(0))).count();
    // among 29 tickets, ten of which are its own: 1 - 19/29 x 18/28 = 0.579
    assertTrue(with > 190 && with < 275, with + " of 400 forms");
  }
}

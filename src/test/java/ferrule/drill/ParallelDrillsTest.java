package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.form.ParallelForms;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** Sittings of one plan on the real trumpet are equally hard, follow their blueprint, and come again from their seeds. */
class ParallelDrillsTest {

  private static final int PAIRS = 1_000;
  private static final ItemBank BANK = Trumpet.BANK;
  private static final ItemDraw DRAW = new ItemDraw(BANK, Chances.byStructure());

  /** A plan as an instructor could make one: a ready-made mix or some kinds, of several assemblies or of all. */
  private static Plan plan(Random random) {
    List<ConceptId> assemblies = new ArrayList<>(BANK.assemblies());
    Collections.shuffle(assemblies, random);
    List<ConceptId> picked = assemblies.subList(0, 4 + random.nextInt(assemblies.size() - 3));
    int length = 10 + random.nextInt(31);
    if (random.nextBoolean()) {
      Mix mix = Mix.values()[random.nextInt(Mix.values().length)];
      return mix.blueprint(BANK, picked, length)
          .map(blueprint -> Plan.of(blueprint, picked, true))
          .orElseGet(() -> plan(random));
    }
    Set<ItemKind> kinds = EnumSet.of(ItemKind.NAME, ItemKind.values()[random.nextInt(ItemKind.values().length)]);
    return Plan.ofAssemblies(picked, kinds, length, true);
  }

  private static boolean isRoomy(Plan plan) {
    return DRAW.blueprint(plan, 7).stream()
        .flatMap(b -> b.cells().stream())
        .allMatch(c -> BANK.topics(c.kind(), c.assembly().map(List::of).orElse(plan.assemblies())).size() >= 2 * c.count());
  }

  @Test
  void theScoresToExpectOfTwoSittingsDifferByAtMostOneHundredthOfTheHighest() {
    Random random = new Random(20_261_125);
    double worst = 0;
    int tight = 0;
    double worstTight = 0;
    for (int pair = 0; pair < PAIRS; pair++) {
      Plan plan = plan(random);
      double apart = Math.abs(DRAW.expected(plan, 2L * pair, 7) - DRAW.expected(plan, 2L * pair + 1, 7)) / plan.length();
      if (isRoomy(plan)) {
        worst = Math.max(worst, apart);
      } else {
        tight++;
        worstTight = Math.max(worstTight, apart);
      }
    }
    System.out.printf(
        Locale.ROOT,
        "parallel drills: %,d pairs with a choice in every cell differ by at most %.3f %% of the highest score; %d whose"
            + " plans ask for more than half of a cell by at most %.3f %%%n",
        PAIRS - tight, 100 * worst, tight, 100 * worstTight);
    assertTrue(worst <= ParallelForms.TOLERANCE, worst + " of the highest score");
    assertTrue(worstTight <= ParallelForms.TOLERANCE, worstTight + " where there is little choice");
  }

  @Test
  void aSittingFollowsItsBlueprint() {
    Plan plan = Plan.of(Mix.EVERYTHING.blueprint(BANK, BANK.assemblies(), 45).orElseThrow(), BANK.assemblies(), true);
    List<Item> items = DRAW.items(plan, 3);
    for (Blueprint.Cell cell : plan.blueprint().orElseThrow().cells()) {
      long asked = items.stream().filter(i -> i.kind() == cell.kind()).count();
      int there = (int) BANK.topics(cell.kind()).stream().map(t -> t.once()).distinct().count();
      assertEquals(Math.min(cell.count(), there), asked, cell.toString());
    }
  }

  @Test
  void theSameSeedsGiveTheSameSittingAndOthersAnother() {
    Plan plan = Plan.of(Mix.TRADE_LANGUAGE.blueprint(BANK, BANK.assemblies(), 20).orElseThrow(), BANK.assemblies(), true);
    assertEquals(DRAW.items(plan, 5, 1, Set.of()), DRAW.items(plan, 5, 1, Set.of()));
    Set<ConceptId> one = keys(DRAW.items(plan, 5, 1, Set.of()));
    Set<ConceptId> other = keys(DRAW.items(plan, 6, 1, Set.of()));
    assertTrue(!one.equals(other), "two sittings ask for the same parts");
  }

  private static Set<ConceptId> keys(List<Item> items) {
    return items.stream().map(Item::key).collect(Collectors.toSet());
  }

  @Test
  void whatWasFailedLatelyComesFirstIfThePlanSaysSo() {
    Plan plan = Plan.of(Mix.NAMES_AND_PLACES.blueprint(BANK, BANK.assemblies(), 10).orElseThrow(), BANK.assemblies(), true);
    Set<ConceptId> failed =
        Set.of(Trumpet.part("third slide crook"), Trumpet.part("bell rim"), Trumpet.part("first valve bottom cap"));
    assertTrue(keys(DRAW.items(plan.withFailedFirst(true), 11, 1, failed)).containsAll(failed));
    assertTrue(!keys(DRAW.items(plan, 11, 1, failed)).containsAll(failed));
  }

  @Test
  void aPlanIsKeptWithItsBlueprint() {
    Plan plan =
        Plan.of(Mix.WORK.blueprint(BANK, BANK.assemblies(), 20).orElseThrow(), BANK.assemblies(), false)
            .withFailedFirst(true);
    assertEquals(plan, PlanDocument.read(PlanDocument.write(plan)));
    assertEquals(20, plan.length());
  }
}

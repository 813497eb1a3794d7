package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.ProcedureItem.Asks;
import ferrule.procedure.ProcedureItem.Choice;
import ferrule.procedure.ProcedureItem.Option;
import ferrule.procedure.ProcedureItem.PutInOrder;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Questions made from the bundled procedures, checked by looking at the procedures again by other means. */
class ProcedureItemsTest {

  private static final int SEEDS = 250;

  private static final Problems PROBLEMS = new Problems();
  private static final Curriculum CURRICULUM = Curriculum.bundled();
  private static final Glossary GLOSSARY = GlossaryReader.read(CURRICULUM, "trumpet", PROBLEMS).orElseThrow();
  private static final Cautions CAUTIONS = CautionReader.read(CURRICULUM, PROBLEMS).orElseThrow();
  private static final ToolCrib CRIB = ToolCribReader.read(CURRICULUM, CAUTIONS, PROBLEMS).orElseThrow();
  private static final List<Procedure> PROCEDURES =
      ProcedureReader.read(CURRICULUM, GLOSSARY, CAUTIONS, CRIB, PROBLEMS);
  private static final ProcedureItems ITEMS = new ProcedureItems(PROCEDURES, CRIB, CAUTIONS);
  private static final Map<Asks, List<Choice>> MADE = new EnumMap<>(Asks.class);

  @Test
  void stepsToPutInOrderAreAllThereAndNotInOrderYet() {
    for (Procedure procedure : PROCEDURES) {
      for (int seed = 0; seed < SEEDS; seed++) {
        PutInOrder item = ITEMS.putInOrder(procedure, seed).orElseThrow();
        assertEquals(new HashSet<>(procedure.stepIds()), new HashSet<>(item.shown()));
        assertEquals(procedure.steps().size(), item.shown().size());
        assertFalse(OrderJudge.judge(procedure, item.shown()).isRight());
      }
    }
  }

  @Test
  void theSameSeedGivesTheSameQuestion() {
    Procedure procedure = PROCEDURES.get(0);
    for (Asks asks : Asks.values()) {
      assertEquals(ITEMS.choice(procedure, asks, 7), ITEMS.choice(procedure, asks, 7));
    }
    assertEquals(ITEMS.putInOrder(procedure, 7), ITEMS.putInOrder(procedure, 7));
  }

  @Test
  void everyProcedureYieldsQuestionsAndAllOfThemHaveOneKeyAndThreeWrongOptions() {
    Map<Asks, Integer> made = new EnumMap<>(Asks.class);
    for (Choice choice : all()) {
      made.merge(choice.asks(), 1, Integer::sum);
      assertEquals(4, choice.options().size());
      assertEquals(1, choice.options().stream().filter(Option::right).count());
      assertEquals(4, choice.options().stream().map(Option::text).distinct().count(), choice::toString);
      assertEquals(4, choice.options().stream().map(Option::id).distinct().count(), choice::toString);
    }
    int most = PROCEDURES.size() * SEEDS;
    assertEquals(most, made.get(Asks.NEXT_STEP));
    assertEquals(most, made.get(Asks.STEP_LEFT_OUT));
    assertTrue(made.get(Asks.TOOL) >= most * 0.9, made::toString);
    assertTrue(made.get(Asks.CAUTION) >= most * 0.9, made::toString);
  }

  /** The oracle walks the stated precedences; the generator asks for what is missing before each step. */
  @Test
  void onlyTheKeyCanComeNext() {
    for (Choice choice : all(Asks.NEXT_STEP)) {
      Procedure procedure = procedure(choice);
      for (Option option : choice.options()) {
        List<StepId> then = new ArrayList<>(choice.shown());
        then.add(StepId.of(option.id()));
        assertEquals(option.right(), canBegin(procedure, then), () -> choice + " " + option);
      }
    }
  }

  private static boolean canBegin(Procedure procedure, List<StepId> beginning) {
    for (Precedence p : procedure.precedences()) {
      int later = beginning.indexOf(p.later());
      int earlier = beginning.indexOf(p.earlier());
      if (later >= 0 && (earlier < 0 || earlier > later)) {
        return false;
      }
    }
    return true;
  }

  @Test
  void onlyTheKeyCompletesTheWorkAndTheOthersTakeWhatItHasNoUseFor() {
    for (Choice choice : all(Asks.STEP_LEFT_OUT)) {
      Procedure procedure = procedure(choice);
      Set<StepId> missing = new HashSet<>(procedure.stepIds());
      choice.shown().forEach(missing::remove);
      assertEquals(1, missing.size());
      assertEquals(missing.iterator().next().value(), choice.key().id());
      for (Option option : choice.options()) {
        if (!option.right()) {
          Step other = stranger(option);
          Set<String> ownKinds = new HashSet<>();
          procedure.tools().forEach(tool -> ownKinds.add(tool.kind()));
          boolean useless =
              other.tools().stream().anyMatch(tool -> !ownKinds.contains(tool.kind()) && takers(tool) <= 3)
                  || other.materials().stream().anyMatch(m -> !procedure.materials().contains(m) && takers(m) <= 3);
          assertTrue(useless, () -> choice + " " + option);
        }
      }
    }
  }

  private static long takers(Object toolOrMaterial) {
    return PROCEDURES.stream()
        .filter(p -> p.steps().stream()
            .anyMatch(s -> s.tools().contains(toolOrMaterial) || s.materials().contains(toolOrMaterial)))
        .count();
  }

  private static Step stranger(Option option) {
    String[] id = option.id().split("/");
    Procedure other = PROCEDURES.stream().filter(p -> p.id().value().equals(id[0])).findFirst().orElseThrow();
    return other.step(StepId.of(id[1]));
  }

  @Test
  void onlyTheKeyIsAToolOfTheStepAndNoWrongOneCouldStandInForOne() {
    for (Choice choice : all(Asks.TOOL)) {
      Step step = procedure(choice).step(choice.shown().get(0));
      for (Option option : choice.options()) {
        Tool tool = CRIB.tool(option.id()).orElseThrow();
        assertEquals(option.right(), step.tools().contains(tool));
        assertTrue(option.right() || step.tools().stream().noneMatch(t -> t.kind().equals(tool.kind())));
      }
    }
  }

  @Test
  void onlyTheKeyIsACautionOfTheWork() {
    for (Choice choice : all(Asks.CAUTION)) {
      Procedure procedure = procedure(choice);
      for (Option option : choice.options()) {
        boolean called =
            procedure.steps().stream().anyMatch(s -> s.cautions().stream().anyMatch(c -> c.id().equals(option.id())));
        assertEquals(option.right(), called, () -> choice + " " + option);
      }
    }
  }

  @Test
  void noQuestionSaysItsOwnAnswer() {
    for (Asks asks : List.of(Asks.TOOL, Asks.CAUTION)) {
      for (Choice choice : all(asks)) {
        String stem = choice.stem().substring(choice.stem().indexOf('?')).toLowerCase(Locale.ROOT);
        for (String word : choice.key().text().toLowerCase(Locale.ROOT).split("\\W+")) {
          assertFalse(word.length() >= 4 && stem.contains(word), () -> choice + " says " + word);
        }
      }
    }
  }

  private static List<Choice> all() {
    List<Choice> all = new ArrayList<>();
    for (Asks asks : Asks.values()) {
      all.addAll(all(asks));
    }
    return all;
  }

  private static List<Choice> all(Asks asks) {
    return MADE.computeIfAbsent(asks, ProcedureItemsTest::make);
  }

  private static List<Choice> make(Asks asks) {
    List<Choice> all = new ArrayList<>();
    for (Procedure procedure : PROCEDURES) {
      for (int seed = 0; seed < SEEDS; seed++) {
        Optional<Choice> choice = ITEMS.choice(procedure, asks, seed);
        choice.ifPresent(all::add);
      }
    }
    return all;
  }

  private static Procedure procedure(Choice choice) {
    return PROCEDURES.stream().filter(p -> p.id().equals(choice.procedure())).findFirst().orElseThrow();
  }
}

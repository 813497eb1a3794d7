package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.ItemKind;
import ferrule.drill.Scored;
import ferrule.glossary.ConceptId;
import ferrule.report.items.Advice;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class QuestionsTest {

  private static final ConceptId BELL = ConceptId.of("bell");
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final ConceptId LEADPIPE = ConceptId.of("leadpipe");

  private static Scored answer(int person, ItemKind kind, ConceptId part, double credit) {
    return new Scored(new UUID(0, person), kind, part, credit);
  }

  @Test
  void whatCallsForSomethingComesBeforeWhatIsSoundAndWhatIsTooFewComesLast() {
    List<Scored> answers = new ArrayList<>();
    for (int person = 0; person < 12; person++) {
      answers.add(answer(person, ItemKind.NAME, BELL, person < 7 ? 1 : 0));
      answers.add(answer(person, ItemKind.FIND, LEADPIPE, person < 2 ? 1 : 0));
    }
    answers.add(answer(0, ItemKind.NAME, RIM, 0));
    Questions questions = Questions.of(answers);
    assertEquals(12, questions.persons());
    assertEquals(List.of(LEADPIPE, BELL, RIM), questions.lines().stream().map(Questions.Line::part).toList());
    assertEquals(
        List.of(Advice.HARD, Advice.SOUND, Advice.TOO_FEW), questions.lines().stream().map(Questions.Line::advice).toList());
    assertEquals(2.0 / 12, questions.lines().get(0).figures().difficulty(), 1e-12);
    assertEquals(List.of(ItemKind.FIND, ItemKind.NAME), questions.ways().stream().map(Questions.Way::kind).toList());
  }

  @Test
  void onlyTheFirstAnswerAboutAPartCounts() {
    Questions questions =
        Questions.of(List.of(answer(1, ItemKind.NAME, BELL, 0), answer(1, ItemKind.FIND, BELL, 1)));
    assertEquals(1, questions.lines().get(0).figures().asked());
    assertEquals(0, questions.lines().get(0).figures().difficulty());
  }

  /** Recomputed from the raw answers: the share of points and how many answered, on random histories. */
  @Test
  void everyFigureIsThatOfThePlainAnswers() {
    List<ConceptId> parts = List.of(BELL, RIM, LEADPIPE, ConceptId.of("receiver"));
    for (long seed = 0; seed < 40; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      List<Scored> answers = new ArrayList<>();
      for (int person = 0; person < 9; person++) {
        for (ConceptId part : parts) {
          if (random.nextBoolean()) {
            answers.add(answer(person, ItemKind.usual().get(random.nextInt(2)), part, random.nextInt(3) / 2.0));
          }
        }
      }
      Questions questions = Questions.of(answers);
      assertEquals(answers.stream().map(Scored::person).distinct().count(), questions.persons());
      assertEquals(answers.stream().map(Scored::part).distinct().count(), questions.lines().size());
      for (Questions.Line line : questions.lines()) {
        List<Scored> own = answers.stream().filter(a -> a.part().equals(line.part())).toList();
        assertEquals(own.size(), line.figures().asked());
        assertEquals(
            own.stream().mapToDouble(Scored::credit).average().orElseThrow(), line.figures().difficulty(), 1e-12);
      }
      for (Questions.Way way : questions.ways()) {
        List<Scored> own = answers.stream().filter(a -> a.kind() == way.kind()).toList();
        assertEquals(own.size(), way.answers());
        assertEquals(own.stream().mapToDouble(Scored::credit).average().orElseThrow(), way.right(), 1e-12);
      }
    }
  }

  @Test
  void aCohortThatAnsweredNothingHasNoQuestions() {
    assertTrue(Questions.of(List.of()).lines().isEmpty());
  }
}

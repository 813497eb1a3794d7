package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;

import ferrule.drill.ItemKind;
import ferrule.drill.Scored;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class KeptQuestionsTest {

  private final KeptQuestions kept = new KeptQuestions();

  private static Scored answer(int person, double credit) {
    return new Scored(new UUID(0, person), ItemKind.NAME, ConceptId.of("bell"), credit);
  }

  @Test
  void theSameAnswersAreNotWorkedOutTwice() {
    assertSame(kept.of(List.of(answer(1, 0), answer(2, 1))), kept.of(List.of(answer(1, 0), answer(2, 1))));
  }

  @Test
  void anAnswerMoreOrRegradedIsWorkedOutAnew() {
    List<Scored> answers = new ArrayList<>(List.of(answer(1, 0), answer(2, 1)));
    Questions before = kept.of(answers);
    answers.set(0, answer(1, 0.5));
    assertNotSame(before, kept.of(answers));
    assertEquals(Questions.of(answers), kept.of(answers));
    answers.add(answer(3, 1));
    assertEquals(Questions.of(answers), kept.of(answers));
  }

  @Test
  void onlyTheLastSixteenAreKept() {
    Questions first = kept.of(List.of(answer(1, 0)));
    for (int person = 2; person <= 17; person++) {
      kept.of(List.of(answer(person, 0)));
    }
    assertNotSame(first, kept.of(List.of(answer(1, 0))));
  }
}

package ferrule.drill.known;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class ChooserTest {

  private static final Instant START = Instant.parse("2026-10-05T18:00:00Z");
  private static final UUID WREN = new UUID(0, 1);
  private static final ConceptId RIM = ConceptId.of("bell-rim");
  private static final ConceptId CROOK = ConceptId.of("third-slide-crook");
  private static final ConceptId SADDLE = ConceptId.of("thumb-saddle");
  private static final List<ConceptId> PARTS = List.of(RIM, CROOK, SADDLE);

  private final Knowledge knowledge = new Knowledge(KnownModel.standard());
  private final Chooser chooser = new Chooser(knowledge);

  private void answer(ConceptId part, double credit, Instant at) {
    knowledge.learn(new Answered(WREN, part, Asking.named(), credit, at));
  }

  private List<ConceptId> next(Instant at, int count) {
    return chooser.next(WREN, PARTS, Asking.named(), at, count, 7).stream().map(Chooser.Worth::part).toList();
  }

  @Test
  void whatWasJustAskedForWaits() {
    answer(CROOK, 0, START);
    answer(RIM, 1, START.minus(Duration.ofDays(3)));
    assertEquals(CROOK, next(START.plus(Duration.ofMinutes(1)), 3).get(2));
  }

  @Test
  void whatWasMissedComesBackTheNextDay() {
    answer(CROOK, 0, START);
    answer(RIM, 1, START);
    answer(SADDLE, 1, START);
    assertEquals(CROOK, next(START.plus(Duration.ofDays(1)), 1).get(0));
  }

  @Test
  void whatIsFirmWaitsForMonths() {
    for (int i = 0; i < 5; i++) {
      for (ConceptId part : PARTS) {
        answer(part, part.equals(RIM) || i == 4 ? 1 : 0, START.plus(Duration.ofDays(7 * i)));
      }
    }
    Instant later = START.plus(Duration.ofDays(33));
    assertFalse(next(later, 2).contains(RIM));
    double soon = chooser.worth(WREN, RIM, Asking.named(), later);
    double muchLater = chooser.worth(WREN, RIM, Asking.named(), later.plus(Duration.ofDays(200)));
    assertTrue(soon < muchLater / 3, soon + " " + muchLater);
  }

  @Test
  void whatClassmatesFindEasyComesAfterWhatTheyFindHard() {
    for (int i = 0; i < 8; i++) {
      UUID other = new UUID(1, i);
      knowledge.learn(new Answered(other, RIM, Asking.named(), 1, START));
      knowledge.learn(new Answered(other, CROOK, Asking.named(), 0, START));
    }
    assertTrue(
        knowledge.chance(WREN, RIM, START).likely() > knowledge.chance(WREN, CROOK, START).likely() + 0.3);
    assertEquals(RIM, next(START, 3).get(2));
  }

  @Test
  void theSeedDecidesBetweenEqualsOnly() {
    List<ConceptId> many = IntStream.range(0, 40).mapToObj(i -> ConceptId.of("part-" + i)).toList();
    var once = chooser.next(WREN, many, Asking.named(), START, 10, 1);
    assertEquals(once, chooser.next(WREN, many, Asking.named(), START, 10, 1));
    assertNotEquals(once, chooser.next(WREN, many, Asking.named(), START, 10, 2));
    answer(CROOK, 0, START);
    answer(RIM, 1, START.minus(Duration.ofDays(2)));
    Instant now = START.plus(Duration.ofDays(2));
    assertEquals(
        chooser.next(WREN, List.of(RIM, CROOK), Asking.named(), now, 2, 1),
        chooser.next(WREN, List.of(CROOK, RIM), Asking.named(), now, 2, 2));
  }
}

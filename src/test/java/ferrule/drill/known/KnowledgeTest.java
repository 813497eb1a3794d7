package ferrule.drill.known;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class KnowledgeTest {

  private static final Instant START = Instant.parse("2026-10-05T18:00:00Z");
  private static final UUID WREN = new UUID(0, 1);
  private static final UUID BRAM = new UUID(0, 2);
  private static final ConceptId RIM = ConceptId.of("bell-rim");

  private static Answered answer(UUID person, double credit, int day) {
    return new Answered(person, RIM, Asking.named(), credit, START.plus(Duration.ofDays(day)));
  }

  private static Instant day(int day) {
    return START.plus(Duration.ofDays(day));
  }

  @Test
  void whatWasMissedAndReadIsLearntButNotNamed() {
    Knowledge knowledge = new Knowledge(KnownModel.standard());
    Instant start = Instant.parse("2026-10-05T18:00:00Z");
    UUID wren = new UUID(0, 1);
    for (int i = 0; i < 6; i++) {
      ConceptId part = ConceptId.of("missed-" + i);
      double before = knowledge.chance(wren, part, start.plus(Duration.ofDays(1))).likely();
      knowledge.learn(new Answered(wren, part, Asking.named(), 0, start.plusSeconds(20 * i)));
      Instant after = start.plusSeconds(20 * i + 10);
      assertEquals(Standing.LOOSE, Standing.of(knowledge, wren, part, after));
      assertEquals(0, knowledge.shown(wren, part, after).high());
      assertEquals(0, knowledge.shareShown(List.of(wren), part, after).high());
      assertTrue(knowledge.chance(wren, part, start.plus(Duration.ofDays(1))).likely() > before, "it is learning");
    }
    ConceptId part = ConceptId.of("missed-0");
    Instant tomorrow = start.plus(Duration.ofDays(1));
    knowledge.learn(new Answered(wren, part, Asking.named(), 1, tomorrow));
    assertNotEquals(Standing.LOOSE, Standing.of(knowledge, wren, part, tomorrow.plusSeconds(10)));
    assertEquals(knowledge.chance(wren, part, tomorrow), knowledge.shown(wren, part, tomorrow));
  }

  @Test
  void whatIsKnownFollowsFromTheAnswersAlone() {
    List<Answered> answers = List.of(answer(WREN, 0, 0), answer(BRAM, 1, 0), answer(WREN, 0.5, 1), answer(WREN, 1, 4));
    Knowledge step = new Knowledge(KnownModel.standard());
    answers.forEach(step::learn);
    Knowledge replayed = Knowledge.replay(KnownModel.standard(), new ArrayList<>(answers));
    assertEquals(step.trace(WREN, RIM), replayed.trace(WREN, RIM));
    assertEquals(step.ability(BRAM), replayed.ability(BRAM));
    assertEquals(step.difficulty(RIM), replayed.difficulty(RIM));
    assertEquals(3, replayed.trace(WREN, RIM).orElseThrow().asked());
  }

  @Test
  void theClassIsTheMeanOfItsPeople() {
    Knowledge knowledge = Knowledge.replay(KnownModel.standard(), List.of(answer(WREN, 1, 0), answer(BRAM, 0, 0)));
    Chance share = knowledge.share(List.of(WREN, BRAM), RIM, day(2));
    double wren = knowledge.chance(WREN, RIM, day(2)).likely();
    double bram = knowledge.chance(BRAM, RIM, day(2)).likely();
    assertTrue(wren > 0.9 && bram < 0.7, wren + " " + bram);
    assertEquals((wren + bram) / 2, share.likely(), 1e-12);
    assertTrue(share.low() < share.likely() && share.likely() < share.high());
  }

  @Test
  void aPartStandsFirmThenWorksLooseThenIsLoose() {
    Knowledge knowledge = new Knowledge(KnownModel.standard());
    assertEquals(Standing.NOT_ASKED, Standing.of(knowledge, WREN, RIM, day(0)));
    knowledge.learn(answer(WREN, 0, 0));
    assertEquals(Standing.LOOSE, Standing.of(knowledge, WREN, RIM, day(3)));
    knowledge.learn(answer(WREN, 1, 3));
    assertEquals(Standing.WORKING_LOOSE, Standing.of(knowledge, WREN, RIM, day(4)));
    for (int day = 8; day < 40; day += 8) {
      knowledge.learn(answer(WREN, 1, day));
    }
    assertEquals(Standing.FIRM, Standing.of(knowledge, WREN, RIM, day(40)));
  }
}

package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class MarkerTest {

  private static final ConceptId THIRD = Trumpet.part("third slide crook");
  private static final ConceptId SECOND = Trumpet.part("second slide crook");

  private static final Pictures.Sight ALL = new Pictures.Sight(all(), all());

  private final Marker marker = new Marker(Trumpet.GLOSSARY);

  private static Set<ConceptId> all() {
    return Trumpet.GLOSSARY.nameable().stream().map(Concept::id).collect(Collectors.toSet());
  }

  private Outcome typed(ConceptId key, String text, boolean colloquial) {
    Item item = new Item(1, ItemKind.NAME, key, "left", Set.of(), 1);
    return marker.mark(item, new Answer.Typed(text), ALL, colloquial);
  }

  private Outcome pointed(ConceptId key, Optional<ConceptId> at) {
    Item item = new Item(1, ItemKind.FIND, key, "left", Set.of(), 1);
    return marker.mark(item, new Answer.Pointed(at), ALL, true);
  }

  @Test
  void thePreferredTermIsWorthThePoint() {
    Outcome outcome = typed(THIRD, "third slide crook", true);
    assertEquals("right", outcome.verdict());
    assertTrue(outcome.isRight());
    assertEquals(Optional.empty(), outcome.takenFor());
  }

  @Test
  void aNameOfTheNextSlideIsKeptAsAMixUp() {
    Outcome outcome = typed(THIRD, "2nd slide crook", true);
    assertFalse(outcome.isRight());
    assertEquals(Optional.of(SECOND), outcome.takenFor());
  }

  @Test
  void aVagueNameIsNotAMixUp() {
    Outcome outcome = typed(THIRD, "crook", true);
    assertEquals("too-vague", outcome.verdict());
    assertEquals(Optional.empty(), outcome.takenFor());
    assertTrue(outcome.isPartly());
  }

  @Test
  void anEverydayNameCountsOnlyWhereTheDrillSaysSo() {
    ConceptId lever = Trumpet.part("third slide water key");
    assertTrue(typed(lever, "third slide spit valve", true).isRight());
    assertEquals(0, typed(lever, "third slide spit valve", false).credit());
  }

  @Test
  void passingIsWorthNothingAndIsNoMixUp() {
    Outcome outcome = typed(THIRD, "  ", true);
    assertEquals(Marker.NO_ANSWER, outcome.verdict());
    assertEquals(0, outcome.credit());
    assertEquals(Optional.empty(), outcome.takenFor());
    assertEquals(Marker.NO_ANSWER, pointed(THIRD, Optional.empty()).verdict());
  }

  @Test
  void pointingAtAnotherPartSaysWhichItIs() {
    Outcome outcome = pointed(THIRD, Optional.of(SECOND));
    assertEquals(0, outcome.credit());
    assertEquals(Optional.of(SECOND), outcome.takenFor());
    assertTrue(outcome.reason().contains("second slide crook"), outcome.reason());
  }

  @Test
  void pointingAtARegionOfThePartFindsThePart() {
    ConceptId bell = Trumpet.part("bell");
    Concept region =
        Trumpet.GLOSSARY.allWithin(bell).stream()
            .filter(c -> c.level() == ferrule.glossary.Level.REGION)
            .findFirst()
            .orElseThrow();
    assertTrue(pointed(bell, Optional.of(region.id())).isRight());
    assertFalse(pointed(region.id(), Optional.of(bell)).isRight());
  }

  @Test
  void phrasesAreComparedWithoutCaseAndPunctuation() {
    assertEquals(Marker.phrase(new Answer.Typed("Spit-Valve")), Marker.phrase(new Answer.Typed("spit  valve")));
    assertEquals(Optional.empty(), Marker.phrase(new Answer.Typed(" ?! ")));
    assertEquals(Optional.empty(), Marker.phrase(new Answer.Pointed(Optional.of(THIRD))));
  }
}

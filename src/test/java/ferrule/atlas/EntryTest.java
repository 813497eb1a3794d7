package ferrule.atlas;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.TermRole;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class EntryTest {

  @Test
  void whatIsSaidAtTheCounterIsKeptApartFromTradeTerms() {
    Entry key = TheTrumpet.entry("water-key");
    assertTrue(key.counterTerms().contains("spit valve"));
    assertFalse(key.tradeTerms().contains("spit valve"));
  }

  @Test
  void misspellingsAreNeverShownAsNames() {
    for (Concept concept : TheTrumpet.GLOSSARY.concepts()) {
      Entry entry = Entry.of(TheTrumpet.GLOSSARY, concept);
      for (String wrong : concept.termsIn(TermRole.MISSPELLING)) {
        assertFalse(entry.tradeTerms().contains(wrong) || entry.counterTerms().contains(wrong), wrong);
      }
    }
  }

  @Test
  void aJointIsToldFromBothSides() {
    assertTrue(names(TheTrumpet.entry("leadpipe").connects()).contains("leadpipe ferrule"));
    assertTrue(names(TheTrumpet.entry("leadpipe-ferrule").connects()).contains("leadpipe"));
  }

  @Test
  void aKindListsItsPartsAtAnyDepth() {
    List<String> felts = names(TheTrumpet.entry("valve-felt").ofKind());
    assertTrue(felts.contains("first up-stroke bumper"), felts.toString());
    assertTrue(felts.stream().anyMatch(f -> f.contains("button felt")), felts.toString());
  }

  @Test
  void lookAlikesDifferInOneThingOnly() {
    Map<String, String> alike =
        TheTrumpet.entry("third-slide-upper-ferrule").lookAlikes().stream()
            .collect(Collectors.toMap(l -> l.other().id().value(), LookAlike::difference));
    assertEquals("lower, not upper", alike.get("third-slide-lower-ferrule"));
    assertEquals("first, not third", alike.get("first-slide-upper-ferrule"));
    assertFalse(alike.containsKey("first-slide-lower-ferrule"), "differs in two things");
  }

  @Test
  void aWordWithTwoMeaningsIsExplained() {
    Entry.AmbiguousWord saddle =
        TheTrumpet.entry("first-slide-thumb-saddle").senses().stream()
            .filter(word -> word.word().equals("saddle")).findFirst().orElseThrow();
    assertTrue(saddle.here().contains("thumb"), saddle.here());
    assertTrue(saddle.elsewhere().get(0).contains("water key"), saddle.elsewhere().toString());
  }

  private static List<String> names(List<Concept> concepts) {
    return concepts.stream().map(Concept::term).toList();
  }
}

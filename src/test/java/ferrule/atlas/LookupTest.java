package ferrule.atlas;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.naming.TermReader;
import java.util.List;
import org.junit.jupiter.api.Test;

class LookupTest {

  private static final TermReader READER = TermReader.of(TheTrumpet.GLOSSARY);

  @Test
  void aNameInAnyOrderAndSpellingLeadsToItsPart() {
    for (String typed : List.of("third slide crook", "crook of the 3rd slide", "3rd slide bow", "third slide crock")) {
      Lookup lookup = Lookup.of(READER, typed);
      assertTrue(lookup.isClear(), typed + ": " + lookup.sentence());
      assertEquals("third-slide-crook", lookup.parts().get(0).id().value());
    }
  }

  @Test
  void aVagueNameListsWhatItFits() {
    Lookup lookup = Lookup.of(READER, "crook");
    assertTrue(lookup.parts().size() > 3, "main tuning slide and three valve slides at least");
    assertTrue(lookup.sentence().contains(lookup.parts().size() + " parts"), lookup.sentence());
  }

  @Test
  void aStrangeWordIsNamedAndTheRestIsStillLookedUp() {
    Lookup lookup = Lookup.of(READER, "zzyzx third slide crook");
    assertFalse(lookup.isClear());
    assertEquals("third-slide-crook", lookup.parts().get(0).id().value());
    assertTrue(lookup.sentence().contains("zzyzx"), lookup.sentence());
  }

  @Test
  void nothingTypedAsksForAName() {
    Lookup lookup = Lookup.of(READER, " ");
    assertEquals(List.of(), lookup.parts());
    assertTrue(lookup.sentence().startsWith("Type the name"));
  }
}

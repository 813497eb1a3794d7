package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class VerdictTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "third-slide-crook | Third slide crook | right",
        "third-slide-crook | crook of the 3rd slide | right",
        "third-slide-crook | third valve slide crook | right",
        "third-slide-crook | the third slide's crook | right",
        "third-slide-crook | 3RD-SLIDE CROOKS!! | right",
        "third-slide-crook | crook, third slide | right",
        "third-slide-crook | I think it's the third slide crook | right",
        "third-slide-crook | third slide bow | right-synonym",
        "third-slide-crook | thirdslidecrook | right",
        "third-slide-crook | thrid slide crook | right",
        "third-slide-upper-inner-tube | upper inner tube of slide no. 3 | right",
        "third-slide-upper-inner-tube | inner upper tube, slide #3 | right",
        "third-slide-upper-inner-tube | 3rd valve slide inside top leg | right-synonym",
        "first-casing | valve casing I | right",
        "first-casing | casing for the first valve | right",
        "first-top-cap | top cap of valve one | right",
        "first-top-cap | 1st vlv top cap | right",
        "first-bottom-cap | botom valve cap, first | right",
        "leadpipe | lead pipe | right",
        "leadpipe | lead-pipe | right",
        "leadpipe | mouthpipe | right-synonym",
        "leadpipe | led pipe | right",
        "leadpipe | leadpip | right",
        "leadpipe-ferrule | lp ferrule | right",
        "main-slide-assembly | main tuning slide assembly | right",
        "main-slide-assembly | main tuning slide | right-synonym",
        "main-slide-assembly | mts | right-synonym",
        "main-slide-assembly | tunning slide | right-synonym",
        "receiver | mouth piece reciever | right",
        "third-slide-water-key | 3rd slide spit valve | right-colloquial",
        "third-slide-water-key | 3rd sldie spit vlave | right-colloquial",
        "finger-hook | pinky hook | right-colloquial",
        "first-piston | piston body one | right",
        "first-guide | 1st valve gide | right",
        "bell-throat | throat of the bell | right",
        "first-second-casing-brace | brace between valves 1 and 2 | right",
        "third-slide-fixed-ring | third slide ring | too-vague",
        "third-slide-crook | crook | too-vague",
        "third-slide-crook | third | too-vague",
        "bell-rim | rim | too-vague",
        "third-slide-water-key | spit valve | too-vague",
        "third-slide-crook | first slide crook | wrong-qualifier",
        "third-slide-crook | main tuning slide crook | wrong-qualifier",
        "main-slide-crook | third slide crook | wrong-qualifier",
        "third-slide-upper-inner-tube | third slide upper outer tube | wrong-qualifier",
        "first-top-cap | first bottom cap | wrong-qualifier",
        "leadpipe-first-casing-brace | leadpipe to bell brace | wrong-qualifier",
        "third-slide-upper-inner-tube | third slide lower outer tube | other-part",
        "third-slide-crook | third slide | other-part",
        "third-slide-crook | bell rim | other-part",
        "third-slide-crook | upper lower crook | unknown",
        "third-slide-crook | idk | unknown",
        "third-slide-crook | not the first slide crook | unknown",
        "third-slide-crook | the thing on the third slide | unknown",
        "third-slide-crook | shiny third slide crook | unknown",
        "third-slide-crook | asdfgh | unknown",
        "third-slide-crook | ??? | unknown",
      })
  void anAnswerIsJudgedAsAFairInstructorWould(String part, String typed, String code) {
    assertEquals(code, Trumpet.judge(part, typed).code(), typed);
  }

  @ParameterizedTest
  @ValueSource(strings = {"cop", "cip", "cxp"})
  void aSlipHalfWayBetweenCapAndCupIsNeither(String slip) {
    assertInstanceOf(Verdict.Unknown.class, Trumpet.judge("first-top-cap", "first top " + slip));
    assertInstanceOf(Verdict.Unknown.class, Trumpet.judge("third-slide-water-key-cup", "third water key " + slip));
  }

  @Test
  void innerIsNeverReadAsOuterNorUpperAsLower() {
    assertInstanceOf(
        Verdict.WrongQualifier.class, Trumpet.judge("third-slide-upper-inner-tube", "third slide upper outer tube"));
    assertInstanceOf(
        Verdict.WrongQualifier.class, Trumpet.judge("third-slide-upper-inner-tube", "third slide lower inner tube"));
  }

  @Test
  void tooVagueNamesTheOpenQuestionAndThePartsThatFit() {
    Verdict.TooVague verdict =
        assertInstanceOf(Verdict.TooVague.class, Trumpet.judge("third-slide-upper-inner-tube", "third slide upper tube"));
    assertEquals(List.of("wall"), verdict.missing().stream().map(Question::id).toList());
    assertEquals(
        Set.of(part("third-slide-upper-inner-tube"), part("third-slide-upper-outer-tube")), Set.copyOf(verdict.fits()));
  }

  @Test
  void wrongQualifierTellsWhatWasSaidAndWhatItIs() {
    Verdict.WrongQualifier verdict =
        assertInstanceOf(Verdict.WrongQualifier.class, Trumpet.judge("third-slide-crook", "1st slide crook"));
    assertEquals("valve", verdict.question().id());
    assertEquals("first", verdict.said());
    assertEquals("third", verdict.is());
    assertTrue(verdict.sentence().contains("third slide crook"), verdict.sentence());
  }

  @Test
  void aQualifierIsNotNeededWhereTheDrawingShowsNoOtherSuchPart() {
    Set<ConceptId> thirdSlide = Set.copyOf(ids("third-slide-crook", "third-slide-upper-ferrule", "third-slide-pull-knob"));
    Verdict shown = Trumpet.READER.judge(ConceptId.of("third-slide-crook"), "crook", thirdSlide);
    assertEquals("right", shown.code());
    Verdict two =
        Trumpet.READER.judge(
            ConceptId.of("third-slide-crook"), "crook", ids("third-slide-crook", "first-slide-crook", "bell"));
    assertEquals(2, assertInstanceOf(Verdict.TooVague.class, two).fits().size());
  }

  @Test
  void theContextNeverMakesAWrongNameFit() {
    Verdict verdict =
        Trumpet.READER.judge(ConceptId.of("third-slide-crook"), "first slide crook", ids("third-slide-crook"));
    assertInstanceOf(Verdict.WrongQualifier.class, verdict);
  }

  @Test
  void aMisspelledNameIsRightAndTheSpellingIsTold() {
    Verdict verdict = Trumpet.judge("third-slide-upper-ferrule", "third slide upper ferrle");
    assertEquals(List.of(new Correction("ferrle", "ferrule")), verdict.reading().corrections());
    assertTrue(verdict.sentence().contains("ferrule"), verdict.sentence());
  }

  @Test
  void everyVerdictHasAFullSentence() {
    for (String typed : List.of("third slide crook", "bow", "spit valve", "first crook", "bell", "xyz", "", "upper lower tube")) {
      String sentence = Trumpet.judge("third-slide-crook", typed).sentence();
      assertTrue(sentence.matches("(?s).{10,}[.?]"), sentence);
      assertFalse(sentence.contains("null"), sentence);
    }
  }

  @Test
  void anAnswerForAPartThatIsNotInTheGlossaryIsTheCallersMistake() {
    assertThrows(IllegalArgumentException.class, () -> Trumpet.judge("no-such-part", "bell"));
  }

  @Test
  void theStandardPolicyGivesFullCreditForTradeTermsOnly() {
    CreditPolicy policy = CreditPolicy.standard();
    assertEquals(1, policy.credit(Trumpet.judge("third-slide-crook", "third slide crook")));
    assertEquals(1, policy.credit(Trumpet.judge("third-slide-crook", "third slide bow")));
    assertEquals(0.5, policy.credit(Trumpet.judge("third-slide-water-key", "third slide spit valve")));
    assertEquals(0.5, policy.credit(Trumpet.judge("third-slide-crook", "crook")));
    assertEquals(0.25, policy.credit(Trumpet.judge("third-slide-crook", "first slide crook")));
    assertEquals(0, policy.credit(Trumpet.judge("third-slide-crook", "bell")));
    assertEquals(0, policy.withColloquial(false).credit(Trumpet.judge("third-slide-water-key", "third slide spit valve")));
    assertThrows(IllegalArgumentException.class, () -> new CreditPolicy(1.1, 1, 1, 1, 1));
  }

  private static Concept part(String id) {
    return Trumpet.part(id);
  }

  private static List<ConceptId> ids(String... ids) {
    return Arrays.stream(ids).map(ConceptId::of).toList();
  }
}

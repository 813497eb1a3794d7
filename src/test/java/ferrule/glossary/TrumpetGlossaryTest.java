package ferrule.glossary;

import static ferrule.glossary.TrumpetGlossary.GLOSSARY;
import static ferrule.glossary.TrumpetGlossary.concept;
import static ferrule.glossary.TrumpetGlossary.id;
import static ferrule.glossary.TrumpetGlossary.ofKind;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Completeness of the trumpet's names. What belongs to the families is common practice of the trade, no source. */
class TrumpetGlossaryTest {

  private static final Set<String> LEVER = Set.of("student", "lever-key", "adjustable-ring", "stop-rod");
  private static final Set<String> BUTTON = Set.of("professional", "button-key", "fixed-ring", "stop-screw");

  @Test
  void atLeastAHundredAndFortyThingsAreNamedAtTheLevelOfARepairer() {
    assertTrue(GLOSSARY.nameable().size() >= 140, "named: " + GLOSSARY.nameable().size());
  }

  @Test
  void everythingBelongsToTheTrumpet() {
    for (Concept c : GLOSSARY.nameable()) {
      assertTrue(c.id().equals(id("trumpet")) || GLOSSARY.wholesOf(c.id()).contains(concept("trumpet")),
          c.id() + " is part of nothing that is part of the trumpet");
    }
  }

  @Test
  void everyKindHasParts() {
    for (Concept kind : GLOSSARY.concepts()) {
      assertTrue(kind.isNameable() || !ofKind(kind.id().value()).isEmpty(), kind.id() + " has no parts");
    }
  }

  @Test
  void everyDefinitionIsASentenceOfItsOwn() {
    Set<String> seen = new HashSet<>();
    for (Concept c : GLOSSARY.concepts()) {
      assertTrue(c.definition().endsWith("."), c.id() + ": " + c.definition());
      assertTrue(seen.add(c.definition()), c.id() + " shares its definition with another concept");
      assertFalse(c.definition().startsWith(c.term() + " "), c.id() + " is defined by its own name");
    }
  }

  @ParameterizedTest
  @CsvSource({
    // slides: main, first, second and third, each with two inner and two outer tubes
    "slide-assembly, 4", "crook, 4", "inner-slide-tube, 8", "outer-slide-tube, 8", "pull-knob, 4",
    // two on each slide, one on the knuckle of the main slide, one at the leadpipe and one at the bell
    "ferrule, 11",
    // casings and what closes them
    "valve-casing, 3", "baluster, 3", "guide-slot, 3", "top-cap, 3", "bottom-cap, 3", "knuckle, 10",
    // pistons
    "piston-assembly, 3", "finger-button, 3", "finger-button-inlay, 3", "valve-stem, 3", "button-felt, 3",
    "up-stroke-bumper, 3", "valve-spring, 3", "spring-barrel, 3", "valve-guide, 3", "piston, 3", "piston-port, 9",
    // water keys of the main and the third slide, in both forms
    "water-key, 2", "water-key-lever, 2", "water-key-cup, 2", "water-key-cork, 2", "water-key-spring, 2",
    "water-key-saddle, 2", "water-key-nipple, 2", "water-key-screw, 2", "button-key-body, 2", "button-key-plunger, 2",
    "button-key-spring, 2", "button-key-seal, 2", "button-key-retainer, 2",
    // rings, rods and rests
    "slide-stop, 1", "finger-ring, 2", "ring-rod, 1", "ring-screw, 1", "thumb-saddle, 1"
  })
  void everyFamilyIsWhole(String kind, int members) {
    assertEquals(members, ofKind(kind).size(), ofKind(kind).stream().map(Concept::term).toList().toString());
  }

  @ParameterizedTest
  @ValueSource(strings = {
    "receiver", "leadpipe", "leadpipe-venturi", "main-slide-upper-outer-tube", "finger-hook", "lyre-holder",
    "lyre-screw", "third-slide-stop-rod", "third-slide-stop-nut", "third-slide-stop-bracket", "third-slide-stop-screw",
    "third-slide-stop-plate", "rim-wire"
  })
  void theSinglePartsAreThere(String id) {
    assertTrue(GLOSSARY.find(id(id)).isPresent(), id);
  }

  @Test
  void theLeadpipeAssemblyHoldsReceiverTubeOuterSlideTubeAndHook() {
    Set<String> pieces = GLOSSARY.piecesOf(id("leadpipe-assembly")).stream().map(c -> c.id().value())
        .collect(Collectors.toSet());
    assertTrue(pieces.containsAll(Set.of("receiver", "leadpipe", "main-slide-upper-outer-tube", "finger-hook")));
  }

  @Test
  void theRegionsOfTheBellRunFromTailToRim() {
    assertEquals(
        List.of("bell-tail", "bell-bow", "bell-stem", "bell-throat", "bell-flare", "bell-rim", "bell-seam"),
        GLOSSARY.piecesOf(id("bell")).stream()
            .filter(c -> c.level() == Level.REGION).map(c -> c.id().value()).toList());
  }

  @ParameterizedTest
  @ValueSource(strings = {"first", "second", "third"})
  void aPistonAssemblyHoldsWhatComesOutOfTheCasing(String valve) {
    Set<String> kinds = GLOSSARY.allWithin(id(valve + "-piston-assembly")).stream()
        .map(c -> c.broader().orElseThrow().value()).collect(Collectors.toSet());
    assertEquals(
        Set.of("finger-button", "finger-button-inlay", "button-felt", "top-cap", "up-stroke-bumper", "valve-stem",
            "valve-spring", "spring-barrel", "valve-guide", "piston", "slide-port", "through-port"),
        kinds);
  }

  @Test
  void aWaterKeyHasTheLeverOrThePlungerButNotBoth() {
    for (String slide : List.of("main-slide", "third-slide")) {
      Set<String> lever = kindsOfWaterKey(slide, LEVER);
      Set<String> button = kindsOfWaterKey(slide, BUTTON);
      assertEquals(Set.of("water-key-lever", "water-key-cup", "water-key-cork", "water-key-spring",
          "water-key-saddle", "water-key-nipple", "water-key-screw"), lever);
      assertEquals(Set.of("button-key-body", "button-key-plunger", "button-key-spring", "button-key-seal",
          "button-key-retainer"), button);
    }
  }

  private static Set<String> kindsOfWaterKey(String slide, Set<String> chosen) {
    return GLOSSARY.piecesOf(id(slide + "-water-key")).stream()
        .filter(c -> GLOSSARY.occursIn(c.id(), chosen))
        .map(c -> c.broader().orElseThrow().value())
        .collect(Collectors.toSet());
  }

  @Test
  void anAdjustableRingComesWithItsRodItsScrewAndTheLyreHolder() {
    Set<String> onlyAdjustable = GLOSSARY.nameable().stream()
        .filter(c -> GLOSSARY.occursIn(c.id(), LEVER) && c.variants().contains("adjustable-ring"))
        .map(c -> c.id().value()).collect(Collectors.toSet());
    assertEquals(Set.of("third-slide-adjustable-ring", "third-slide-ring-rod", "third-slide-ring-screw", "lyre-holder",
        "lyre-screw"), onlyAdjustable);
    assertFalse(GLOSSARY.occursIn(id("third-slide-fixed-ring"), LEVER));
    assertTrue(GLOSSARY.occursIn(id("third-slide-fixed-ring"), BUTTON));
  }

  @Test
  void everyVariantChangesSomething() {
    for (Variant variant : GLOSSARY.variants()) {
      assertTrue(GLOSSARY.nameable().stream().anyMatch(c -> c.variants().contains(variant.id())), variant.id());
    }
  }

  @Test
  void aSaddleIsOnAWaterKeyOrForTheThumb() {
    assertEquals(Set.of("water-key-saddle", "thumb-saddle"), conceptsCalled("saddle"));
    assertEquals(Set.of("water-key-cup", "mouthpiece-cup"), conceptsCalled("cup"));
    assertEquals(Set.of("bell-rim", "mouthpiece-rim"), conceptsCalled("rim"));
  }

  private static Set<String> conceptsCalled(String word) {
    return GLOSSARY.concepts().stream()
        .filter(c -> c.terms().stream().anyMatch(t -> t.text().equals(word)))
        .map(c -> c.id().value()).collect(Collectors.toSet());
  }

  @Test
  void everySenseSharesItsWordWithAnother() {
    for (Sense sense : GLOSSARY.senses()) {
      long meanings = GLOSSARY.senses().stream().filter(s -> s.word().equals(sense.word())).count();
      assertTrue(meanings >= 2, sense.id() + ": '" + sense.word() + "' has one meaning only and needs no sense");
    }
  }

  @Test
  void spitValveIsKnownAndMarkedColloquial() {
    assertTrue(concept("water-key").termsIn(TermRole.COLLOQUIAL).contains("spit valve"));
    assertTrue(concept("baluster").termsIn(TermRole.MISSPELLING).contains("balluster"));
  }

  /** What the facets and the kinds already give, and give to no other part, would only be a second place to mend. */
  @Test
  void noPartRepeatsWhatItsQualifiersAndKindsGive() {
    Map<String, Set<String>> partsByName = new HashMap<>();
    for (Concept c : GLOSSARY.nameable()) {
      Composed.namesOf(GLOSSARY, c).forEach(name ->
          partsByName.computeIfAbsent(name, k -> new HashSet<>()).add(c.id().value()));
    }
    for (Concept c : GLOSSARY.nameable()) {
      List<String> repeated = c.termsIn(TermRole.ALTERNATIVE).stream()
          .filter(term -> Set.of(c.id().value()).equals(partsByName.get(term))).toList();
      assertEquals(List.of(), repeated, c.id().value());
    }
  }

  /** So that a reader of typed answers needs no list of exceptions. */
  @Test
  void aPreferredTermIsMadeOfQualifiersAndAHeadNounUnlessThePartIsNamedByWhatItJoins() {
    List<String> irregular = GLOSSARY.nameable().stream()
        .filter(c -> c.broader().isPresent() && c.joins().isEmpty())
        .filter(c -> !Composed.namesOf(GLOSSARY, c).contains(c.term()))
        .map(Concept::term).toList();
    // what is left is named by the thing it sits on, whose name is no qualifier
    List<String> expected = Stream.of(
        Stream.of("first", "second", "third").flatMap(v -> Stream.of("upper slide port", "lower slide port",
            "through port").map(port -> v + " piston " + port)),
        Stream.of("rear", "front").flatMap(p -> Stream.of("rod", "bell flange", "leadpipe flange")
            .map(piece -> p + " leadpipe to bell brace " + piece)),
        Stream.of("lyre screw")).flatMap(s -> s).sorted().toList();
    assertEquals(expected, irregular.stream().sorted().toList());
  }
}

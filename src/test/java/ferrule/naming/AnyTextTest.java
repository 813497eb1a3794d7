package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.ShrinkingMode;

class AnyTextTest {

  private static final int LONGEST = 10_000;

  /** A word of 40 letters has 821 forms within two deletions and 640 places to cut; a pair of words up to 1,177 forms. */
  private static final long WORK_OF_A_WORD = 6_000;

  @Property(tries = 400, shrinking = ShrinkingMode.OFF)
  void noTextMakesTheReaderThrow(@ForAll("texts") String text) {
    Reading reading = Trumpet.READER.read(text);
    assertTrue(reading.sentence().length() > 5);
    assertTrue(Trumpet.judge("bell", text).sentence().length() > 5);
  }

  @Property(tries = 400, shrinking = ShrinkingMode.OFF)
  void theNormalFormOfANormalFormIsItselfAndReadsAlike(@ForAll("texts") String text) {
    String normal = TermReader.normalForm(text);
    assertEquals(normal, TermReader.normalForm(normal));
    Reading one = Trumpet.READER.read(text);
    Reading other = Trumpet.READER.read(normal);
    assertEquals(one.parts(), other.parts());
    assertEquals(one.obstacle(), other.obstacle());
    assertEquals(one.corrections(), other.corrections());
  }

  @Property(tries = 400, shrinking = ShrinkingMode.OFF)
  void theWorkGrowsAtMostWithTheLengthOfTheText(@ForAll("texts") String text) {
    int words = Math.min(Lexicon.MOST_WORDS, Wording.of(text).words().size());
    long parts = Trumpet.GLOSSARY.nameable().size();
    assertTrue(Trumpet.READER.workOf(text) <= text.length() + WORK_OF_A_WORD * words + 8 * parts, text);
  }

  @Property(tries = 200)
  void wordsAboutAnAnswerDoNotChangeWhatItPicksOut(@ForAll("parts") Concept part, @ForAll("wrappings") String wrapping) {
    String typed = wrapping.replace("X", part.term());
    assertEquals(List.of(part), Trumpet.READER.read(typed).parts(), typed);
  }

  @Provide
  Arbitrary<String> texts() {
    Arbitrary<String> anything = Arbitraries.strings().ofMaxLength(60);
    Arbitrary<String> lengthy = Arbitraries.strings().ofMinLength(LONGEST / 2).ofMaxLength(LONGEST);
    Arbitrary<String> letters = Arbitraries.strings().withCharRange('a', 'z').withChars(' ').ofMaxLength(200);
    Arbitrary<String> marks =
        Arbitraries.strings().withChars("\u0130\u00df\u03a3\u03c2\u2116\u00b4'\u2019 1\u0661\ud83d\udc4d\u0301\u1e9e\ufb03n-").ofMaxLength(80);
    Arbitrary<String> words =
        Arbitraries.of(Trumpet.GLOSSARY.nameable()).map(Concept::term).list().ofMaxSize(400).map(t -> String.join(" ", t));
    Arbitrary<String> slips = Arbitraries.of(Trumpet.GLOSSARY.nameable()).flatMap(AnyTextTest::slipped);
    return Arbitraries.oneOf(anything, lengthy, letters, marks, words.map(w -> cut(w, LONGEST)), slips);
  }

  private static Arbitrary<String> slipped(Concept part) {
    return Combinators.combine(Arbitraries.integers().between(0, part.term().length()), Arbitraries.chars().ascii())
        .as((at, c) -> part.term().substring(0, at) + c + part.term().substring(at));
  }

  private static String cut(String text, int length) {
    return text.length() > length ? text.substring(0, length) : text;
  }

  @Provide
  Arbitrary<Concept> parts() {
    return Arbitraries.of(Trumpet.GLOSSARY.nameable());
  }

  @Provide
  Arbitrary<String> wrappings() {
    return Arbitraries.of("  X  ", "the X", "I think it's the X", "X?", "\u201cX\u201d", "that would be the X!!", "maybe X", "(X)");
  }
}

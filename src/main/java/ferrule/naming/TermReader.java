package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.Collection;
import java.util.List;
import java.util.Set;

/**
 * Reads a typed phrase into the part that it picks out, and judges it against the part that was asked for.
 *
 * <p><b>Reading.</b> A phrase is a bag of words: qualifiers and a head noun in any order. It fits a part if one of its words
 * is a head of the part (the noun that one of its terms or of its kinds' terms is about) and every other word can stand in
 * the part's name: a word of its terms, of its kinds' terms, of the terms of what it joins or belongs to, or a word for its
 * answer to a facet's question. Words that bind ("of the") and words around an answer ("I think") are ignored; optional words
 * ("valve", "trumpet", "assembly") count where a part has them in its name and are ignored where no part would fit with them.
 * A word that the glossary does not know is read as the one nearest to it ({@link Spelling}); if there is none, or two are
 * equally near, nothing is read.
 *
 * <p><b>Several parts fit.</b> These go before the rest, one rule after the other: parts whose own names hold all the words;
 * those whose noun was said in full, the longest such ("ring" is a finger ring before it is a joint ring); those that the
 * word before the noun does not speak against ("bell flange"); those with each word as often as it was said; those of which a
 * whole term was said, the nearest to what was said ("third slide" is the slide and not a part of it). A term whose word has
 * several senses in the glossary never settles anything. What is left fits. Of that, the parts of which the phrase is a trade
 * term are picked out before those of which it is only an everyday name.
 *
 * <p><b>The context rule.</b> A qualifier may be left out when it is not needed to single the part out: the phrase is right if
 * the asked part is the only one that it picks out among all the glossary's parts, or the only one among the parts of the
 * context, such as those that the drawing shows. The context only ever narrows what a phrase picks out; it never makes a
 * phrase fit.
 *
 * <p><b>Wrong in one qualifier.</b> The phrase does not fit the asked part, its noun does, and all that stands against is a
 * word that answers one facet's question otherwise; or it picks out a brace of the same kind that joins other things. Anything
 * else that fits a part is another part.
 *
 * <p><b>Cost.</b> Each word costs a hash look-up, or for an unknown word the look-ups of {@link DeletionIndex}; the parts are
 * found by walking the shortest of the words' part lists and asking the others for each. So the cost grows with the answer's
 * length and with the parts that fit, hardly with the glossary. A phrase of more than {@value Lexicon#MOST_WORDS} words is
 * not read.
 */
public final class TermReader {


  private final NameIndex index;

  private TermReader(NameIndex index) {
    this.index = index;
  }

  /** A reader of a glossary's names. Making one takes some milliseconds; it is immutable and safe to share. */
  public static TermReader of(Glossary glossary) {
    return new TermReader(new NameIndex(glossary));
  }

  /**
   * The normal form of a phrase: case, punctuation, accents, hyphens and possessives taken off. Phrases with the same normal
   * form are read alike, and the normal form of a normal form is itself.
   */
  public static String normalForm(String typed) {
    return Wording.of(typed).text();
  }

  /** What a phrase picks out. Any text will do; none makes it throw. */
  public Reading read(String typed) {
    return scan(typed).reading();
  }

  /** Whether this is the id of a part that an answer can name. */
  public boolean reads(ConceptId key) {
    return index.number(key).isPresent();
  }

  /**
   * Judges a phrase as the name of a part, in the context of the whole instrument.
   *
   * @throws IllegalArgumentException if the glossary has no such part
   */
  public Verdict judge(ConceptId key, String typed) {
    return judge(key, typed, Set.of());
  }

  /**
   * Judges a phrase as the name of a part.
   *
   * @param key the part that was asked for
   * @param context the parts among which it was to be singled out, such as those that the drawing showed; empty for all
   * @throws IllegalArgumentException if the glossary has no such part
   */
  public Verdict judge(ConceptId key, String typed, Collection<ConceptId> context) {
    int asked =
        index.number(key).orElseThrow(() -> new IllegalArgumentException("no part of the glossary has the id " + key));
    return new Judgement(index, scan(typed), asked).verdict(context);
  }

  /** All parts that a phrase fits, also those for which it is only an everyday name beside a trade term of another. */
  List<Concept> fitting(String typed) {
    Scan scan = scan(typed);
    return scan.concepts(scan.fits);
  }

  /** How many characters, words, stored words and parts reading a phrase looks at: its cost, independent of any clock. */
  long workOf(String typed) {
    return scan(typed).work;
  }

  private Scan scan(String typed) {
    return new Scan(index, typed);
  }
}

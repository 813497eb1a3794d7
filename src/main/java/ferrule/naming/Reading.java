package ferrule.naming;

import ferrule.glossary.Concept;
import java.util.List;

/**
 * What a phrase picks out, before anybody asks whether that is right.
 *
 * @param typed the phrase as it was typed
 * @param parts the concepts that it fits, in the order of the glossary; one if it names a part, several if it is too
 *     vague, none if it names nothing
 * @param namesNoun whether it says what sort of thing it means; without, "third" or "upper", it can only be too vague
 * @param corrections the words that were read as another spelling
 * @param obstacle what stood in the way if there are no parts
 * @param obstacleWords the words that the obstacle is about
 */
public record Reading(
    String typed,
    List<Concept> parts,
    boolean namesNoun,
    List<Correction> corrections,
    Obstacle obstacle,
    List<String> obstacleWords) {

  /** What can keep a phrase from naming a part. */
  public enum Obstacle {
    /** Nothing stood in the way. */
    NONE,
    /** There are no words of a name in it. */
    NOTHING_SAID,
    /** More words than any name has. */
    TOO_LONG,
    /** It says what the part is not, or that the writer does not know. */
    DENIED,
    /** It describes a thing without naming it. */
    DESCRIBED,
    /** A word of it is not a word of the glossary. */
    UNKNOWN_WORD,
    /** A misspelled word could be either of two words. */
    EITHER_WORD,
    /** Two of its words give different answers to one question, as in "upper lower tube". */
    CONTRADICTION,
    /** Its words are known, and no part has such a name. */
    NO_SUCH_PART,
    /** An instructor has ruled that it is not accepted; the words are the reason. */
    RULED_OUT
  }

  /** Copies the lists. */
  public Reading {
    parts = List.copyOf(parts);
    corrections = List.copyOf(corrections);
    obstacleWords = List.copyOf(obstacleWords);
  }

  /** The same phrase with the reason why an instructor does not accept it. */
  Reading ruledOut(String because) {
    return new Reading(typed, List.of(), false, List.of(), Obstacle.RULED_OUT, List.of(because));
  }

  /** What to say of the phrase when no part was asked for: what it fits, or why it names nothing. */
  public String sentence() {
    return parts.isEmpty() ? Sentences.unknown(this) : Sentences.fits(typed, parts);
  }
}

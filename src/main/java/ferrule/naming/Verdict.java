package ferrule.naming;

import ferrule.glossary.Concept;
import java.util.List;

/**
 * What a fair instructor would say of a typed answer, with the evidence for it.
 *
 * <p>Each verdict has a {@link #sentence()} to show to the apprentice who gave the answer, and a {@link #code()} by which it
 * is stored and printed.
 */
public sealed interface Verdict {

  /** The part that was asked for. */
  Concept asked();

  /** How the answer was read. */
  Reading reading();

  /** A short stable name: {@code right}, {@code right-synonym}, {@code too-vague} and so on. */
  String code();

  /** What to tell the apprentice: plain, complete sentences. */
  String sentence();

  /** Whether the answer names the asked part and no other; a colloquial name counts. */
  default boolean namesThePart() {
    return this instanceof Right || this instanceof RightSynonym || this instanceof RightColloquial;
  }

  /**
   * The preferred term, in any order and with any form of a number, perhaps short of qualifiers that were not needed.
   *
   * @param unsaid the questions that the preferred term answers and the answer left open
   */
  record Right(Concept asked, Reading reading, List<Question> unsaid) implements Verdict {

    /** Copies the list. */
    public Right {
      unsaid = List.copyOf(unsaid);
    }

    @Override
    public String code() {
      return "right";
    }

    @Override
    public String sentence() {
      String verdict = unsaid.isEmpty() ? "Right: " + asked.term() + "." : "Right. Its full name is " + asked.term() + ".";
      return verdict + Sentences.spelling(reading);
    }
  }

  /** Another good trade term for the part. */
  record RightSynonym(Concept asked, Reading reading) implements Verdict {

    @Override
    public String code() {
      return "right-synonym";
    }

    @Override
    public String sentence() {
      return "Right, the trade says that too. The preferred term is " + asked.term() + "." + Sentences.spelling(reading);
    }
  }

  /** A name that people use and a shop ticket should not. */
  record RightColloquial(Concept asked, Reading reading) implements Verdict {

    @Override
    public String code() {
      return "right-colloquial";
    }

    @Override
    public String sentence() {
      return "You mean the right part, but that is an everyday name. On a shop ticket write " + asked.term() + "."
          + Sentences.spelling(reading);
    }
  }

  /**
   * The answer fits the asked part and others too.
   *
   * @param missing the questions that the answer left open, if qualifiers would settle it
   * @param fits the parts that it fits, those of the context if there is one
   * @param namesNoun whether it says at least what sort of part it means
   */
  record TooVague(Concept asked, Reading reading, List<Question> missing, List<Concept> fits, boolean namesNoun)
      implements Verdict {

    /** Copies the lists. */
    public TooVague {
      missing = List.copyOf(missing);
      fits = List.copyOf(fits);
    }

    @Override
    public String code() {
      return "too-vague";
    }

    @Override
    public String sentence() {
      return namesNoun ? Sentences.tooVague(this) : Sentences.nounMissing(this);
    }
  }

  /**
   * The right sort of part with one qualifier wrong.
   *
   * @param question the question that was answered wrongly
   * @param said the answer that was given, in the glossary's words
   * @param is the answer that it should have been; empty if the part's name does not answer that question
   */
  record WrongQualifier(Concept asked, Reading reading, Question question, String said, String is) implements Verdict {

    @Override
    public String code() {
      return "wrong-qualifier";
    }

    @Override
    public String sentence() {
      return Sentences.wrongQualifier(this);
    }
  }

  /** The answer names another part, or fits only others. */
  record OtherPart(Concept asked, Reading reading) implements Verdict {

    /** The parts that it names. */
    public List<Concept> read() {
      return reading.parts();
    }

    @Override
    public String code() {
      return "other-part";
    }

    @Override
    public String sentence() {
      return Sentences.otherPart(this);
    }
  }

  /** The answer is not understood as a name; the reading says what stood in the way. */
  record Unknown(Concept asked, Reading reading) implements Verdict {

    @Override
    public String code() {
      return "unknown";
    }

    @Override
    public String sentence() {
      return Sentences.unknown(reading);
    }
  }
}

package ferrule.naming;

import ferrule.glossary.ConceptId;

/**
 * What an instructor decided about an answer for a part: "crook pipe" is a term for the third slide crook, say.
 *
 * <p>A ruling speaks of the phrase in its normal form ({@link TermReader#normalForm}), so that it covers every way of
 * writing the same words.
 *
 * @param phrase the answer in normal form, at least one word
 * @param part the part that was asked for
 * @param decision what was decided
 */
public record Ruling(String phrase, ConceptId part, Decision decision) {

  /** The choices of an instructor. */
  public sealed interface Decision {

    /** It is a good trade term for the part, and counts as one from now on. */
    record AcceptAsTerm() implements Decision {}

    /** It is an everyday name of the part, and counts as one from now on. */
    record AcceptAsColloquial() implements Decision {}

    /** It is a misspelling of the part's name, and is read as that from now on. */
    record AcceptAsMisspelling() implements Decision {}

    /** It is accepted this once; the next such answer is judged as before. */
    record AcceptOnce() implements Decision {}

    /**
     * It is not accepted, now or later.
     *
     * @param because the reason, as the apprentice will read it
     */
    record Reject(String because) implements Decision {

      /** Checks that there is a reason. */
      public Reject {
        if (because == null || because.isBlank()) {
          throw new IllegalArgumentException("an answer is not rejected without a reason");
        }
        because = because.strip();
      }
    }
  }

  /** Checks that the phrase is in normal form and not empty. */
  public Ruling {
    if (phrase.isEmpty() || !phrase.equals(TermReader.normalForm(phrase))) {
      throw new IllegalArgumentException("a ruling needs a phrase of words in normal form, given: " + phrase);
    }
  }

  /** A ruling on an answer as it was typed. */
  public static Ruling on(String typed, ConceptId part, Decision decision) {
    return new Ruling(TermReader.normalForm(typed), part, decision);
  }

  /** Whether the ruling holds for every such answer, past and to come, and not only for the one that was ruled on. */
  public boolean isStanding() {
    return !(decision instanceof Decision.AcceptOnce);
  }
}

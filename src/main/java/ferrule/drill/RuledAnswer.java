package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * An instructor's ruling on a phrase as the name of a part.
 *
 * @param id never changes
 * @param glossary the id of the glossary
 * @param edition the edition of the curriculum in which it was made
 * @param part the part that was asked for
 * @param typed the phrase as somebody typed it
 * @param phrase its normal form: rulings hold for every answer with the same one
 * @param decision what was decided
 * @param reason why not, where it was not accepted; otherwise empty or a remark
 * @param ruledBy the instructor
 * @param ruledAt when
 * @param undoneAt when it was taken back, if it was
 */
public record RuledAnswer(
    UUID id,
    String glossary,
    String edition,
    ConceptId part,
    String typed,
    String phrase,
    Decision decision,
    String reason,
    UUID ruledBy,
    Instant ruledAt,
    Optional<Instant> undoneAt) {

  /** The most characters that a reason may have. */
  public static final int LONGEST_REASON = 300;

  /** Checks that a phrase that is not accepted has a reason. */
  public RuledAnswer {
    if (phrase.isBlank()) {
      throw new IllegalArgumentException("a ruling needs a phrase with words in it");
    }
    if (decision == Decision.NOT_ACCEPTED && reason.isBlank()) {
      throw new IllegalArgumentException("an answer is not accepted for a reason");
    }
    if (reason.length() > LONGEST_REASON) {
      throw new IllegalArgumentException("a reason has at most " + LONGEST_REASON + " characters");
    }
  }

  /** Whether it holds. */
  public boolean stands() {
    return undoneAt.isEmpty();
  }
}

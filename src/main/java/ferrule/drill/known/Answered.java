package ferrule.drill.known;

import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.UUID;

/**
 * One answer, as far as it matters to what is known.
 *
 * @param person who answered
 * @param part the part that was asked for
 * @param asking how it was asked for
 * @param credit what the answer counts, from 0 to 1; a part of a point is taken as that share of a right answer
 * @param at when it was given
 */
public record Answered(UUID person, ConceptId part, Asking asking, double credit, Instant at) {

  /** Checks the credit. */
  public Answered {
    if (!(credit >= 0 && credit <= 1)) {
      throw new IllegalArgumentException("credit is from 0 to 1; given: " + credit);
    }
  }
}

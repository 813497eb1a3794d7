package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Optional;

/**
 * What an answer counts, and why.
 *
 * @param verdict the verdict's code, such as "right-synonym" or "other-part"
 * @param credit the share of the item's point, from 0 to 1
 * @param reason the verdict in a sentence for the apprentice
 * @param takenFor the part that the answer picks out, where it is one and not the one asked for
 */
public record Outcome(String verdict, double credit, String reason, Optional<ConceptId> takenFor) {

  /** Checks the credit. */
  public Outcome {
    if (!(credit >= 0 && credit <= 1)) {
      throw new IllegalArgumentException("credit is from 0 to 1; given: " + credit);
    }
  }

  /** Whether the whole point was given. */
  public boolean isRight() {
    return credit >= 1;
  }

  /** Whether some but not all of the point was given. */
  public boolean isPartly() {
    return credit > 0 && credit < 1;
  }
}

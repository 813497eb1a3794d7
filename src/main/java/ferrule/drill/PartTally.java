package ferrule.drill;

import ferrule.glossary.ConceptId;

/**
 * How a part was answered.
 *
 * @param part the part that was asked for
 * @param asked how often it was answered
 * @param credit the sum of what the answers count now
 */
public record PartTally(ConceptId part, int asked, double credit) {

  /** The share of the points that was given, from 0 to 1: the item difficulty of classical test theory. */
  public double facility() {
    return credit / asked;
  }
}

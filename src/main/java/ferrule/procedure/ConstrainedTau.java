package ferrule.procedure;

/**
 * Kendall's rank correlation between an order that was given and a partial order, over the pairs of elements that the
 * partial order relates: tau = (concordant - discordant) / (concordant + discordant).
 *
 * <p>M. G. Kendall, "A New Measure of Rank Correlation", Biometrika 30 (1938) 81-93. His measure compares two rankings
 * over all pairs; pairs whose order does not matter are left out here, so that 1 means that every precedence is kept,
 * and an order drawn at random has an expected value of 0. For a procedure without choice it is his measure.
 *
 * @param concordant the number of related pairs that stand the right way round, those that follow from others included
 * @param discordant the number of those that stand the wrong way round
 */
public record ConstrainedTau(int concordant, int discordant) {

  /** Checks that neither is negative. */
  public ConstrainedTau {
    if (concordant < 0 || discordant < 0) {
      throw new IllegalArgumentException("pairs are counted from 0; given: " + concordant + " and " + discordant);
    }
  }

  /** The correlation, -1 to 1; 1 if the order relates no pair. */
  public double value() {
    int pairs = concordant + discordant;
    return pairs == 0 ? 1 : (concordant - discordant) / (double) pairs;
  }

  /** The share of full credit: the correlation, or 0 if it is negative, so that guessing is worth little. */
  public double credit() {
    return Math.max(0, value());
  }
}

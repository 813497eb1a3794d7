package ferrule.bench;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Optional;

/**
 * What a quantity is read on.
 *
 * @param name such as "vernier caliper"
 * @param resolution the smallest step that can be read, in the criterion's unit; empty where the uncertainty is known
 * @param statedUncertainty the expanded uncertainty (coverage factor 2) of a reading, in the criterion's unit
 */
public record Gauge(String name, Optional<BigDecimal> resolution, Optional<BigDecimal> statedUncertainty) {

  private static final BigDecimal ROOT_OF_THREE = new BigDecimal("3").sqrt(MathContext.DECIMAL64);

  /** Checks that exactly one of resolution and uncertainty is given. */
  public Gauge {
    if (resolution.isPresent() == statedUncertainty.isPresent()) {
      throw new IllegalArgumentException("a gauge has a resolution or an expanded uncertainty, one of the two: " + name);
    }
  }

  /**
   * The expanded uncertainty of a reading, coverage factor 2.
   *
   * <p>From a resolution d alone: the true value lies anywhere within a step with equal probability, so that the
   * standard uncertainty is d / (2 √3) = 0.29 d (JCGM 100:2008, F.2.2.1), and twice that is d / √3. It leaves out every
   * other source, so that it is the least that the uncertainty can be.
   */
  public BigDecimal expandedUncertainty() {
    return statedUncertainty.orElseGet(() -> resolution.orElseThrow().divide(ROOT_OF_THREE, MathContext.DECIMAL32));
  }

  /** The gauge and how finely it reads, such as "vernier caliper, reads to 0.05 mm". */
  public String inWords(Unit unit) {
    return resolution
        .map(d -> name + ", reads to " + d.toPlainString() + " " + unit.symbol())
        .orElseGet(() -> name + ", uncertain by " + expandedUncertainty().toPlainString() + " " + unit.symbol());
  }
}

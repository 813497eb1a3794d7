package ferrule.bench;

import static ferrule.bench.Conformity.CONFORMING;
import static ferrule.bench.Conformity.NOT_CONFORMING;
import static ferrule.bench.Conformity.UNDECIDED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.math.BigDecimal;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DecisionRuleTest {

  private static final DecisionRule ONE_U = new DecisionRule(BigDecimal.ONE);

  private static Limits limits(String lower, String upper) {
    return new Limits(
        Optional.ofNullable(lower).map(BigDecimal::new), Optional.ofNullable(upper).map(BigDecimal::new), "the drawing");
  }

  // A guard band is the interval between a tolerance limit and the acceptance limit; with the acceptance limit inside,
  // acceptance is guarded, with it outside, rejection is (IUPAC Gold Book 08076, doi 10.1351/goldbook.08076; the
  // same terms as JCGM 106:2012, 8.3). Limits 1.00 to 2.00, U 0.10: accept 1.10 to 1.90, reject beyond 0.90 and 2.10.
  @ParameterizedTest
  @CsvSource({
    "0.89, NOT_CONFORMING", "0.90, UNDECIDED", "1.00, UNDECIDED", "1.09, UNDECIDED", "1.10, CONFORMING",
    "1.50, CONFORMING", "1.90, CONFORMING", "1.91, UNDECIDED", "2.10, UNDECIDED", "2.11, NOT_CONFORMING"
  })
  void acceptanceAndRejectionAreBothGuarded(String value, Conformity expected) {
    assertEquals(expected, ONE_U.judge(new BigDecimal(value), limits("1.00", "2.00"), new BigDecimal("0.10")));
  }

  @Test
  void withoutAGuardBandTheLimitsAloneDecide() {
    DecisionRule simple = new DecisionRule(BigDecimal.ZERO);
    BigDecimal anyUncertainty = new BigDecimal("0.5");
    assertEquals(CONFORMING, simple.judge(new BigDecimal("2.00"), limits("1.00", "2.00"), anyUncertainty));
    assertEquals(NOT_CONFORMING, simple.judge(new BigDecimal("2.01"), limits("1.00", "2.00"), anyUncertainty));
  }

  @Test
  void oneLimitIsJudgedAlone() {
    BigDecimal u = new BigDecimal("0.05");
    assertEquals(CONFORMING, ONE_U.judge(new BigDecimal("-3"), limits(null, "0.30"), u));
    assertEquals(UNDECIDED, ONE_U.judge(new BigDecimal("0.28"), limits(null, "0.30"), u));
    assertEquals(NOT_CONFORMING, ONE_U.judge(new BigDecimal("0.2"), limits("0.30", null), u));
  }

  @Test
  void aGaugeTooCoarseForTheToleranceAcceptsNothing() {
    BigDecimal u = new BigDecimal("0.6");
    for (String value : new String[] {"1.0", "1.25", "1.5", "1.75", "2.0"}) {
      assertEquals(UNDECIDED, ONE_U.judge(new BigDecimal(value), limits("1", "2"), u), value);
    }
  }

  // JCGM 100:2008, F.2.2.1: a resolution of d contributes a standard uncertainty of 0.29 d; U is twice that
  @Test
  void aResolutionGivesItsUncertainty() {
    Gauge gauge = new Gauge("caliper", Optional.of(new BigDecimal("0.05")), Optional.empty());
    assertEquals(2 * 0.29 * 0.05, gauge.expandedUncertainty().doubleValue(), 0.0005);
    assertThrows(IllegalArgumentException.class, () -> new Gauge("caliper", Optional.empty(), Optional.empty()));
  }

  @Test
  void limitsAreInOrderAndThereIsOne() {
    assertThrows(IllegalArgumentException.class, () -> limits(null, null));
    assertThrows(IllegalArgumentException.class, () -> limits("2", "1"));
  }
}

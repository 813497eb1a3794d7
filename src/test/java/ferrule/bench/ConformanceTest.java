package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConformanceTest {

  private static Limits limits(String lower, String upper) {
    return new Limits(
        Optional.ofNullable(lower).map(BigDecimal::new), Optional.ofNullable(upper).map(BigDecimal::new), "the text");
  }

  private static double probability(String reading, Limits limits, String standardUncertainty) {
    BigDecimal expanded = new BigDecimal(standardUncertainty).multiply(new BigDecimal("2"));
    return Conformance.probability(new BigDecimal(reading), limits, expanded);
  }

  // JCGM 106:2012, 7.3.3, examples of one limit, the figures from memory (a guide to decision rules of 2019 lists them
  // by that clause: one upper limit, one lower limit). A breakdown voltage read as -5.47 V with u = 0.05 V and allowed
  // up to -5.40 V conforms with 0.92; a bursting strength of 509.7 kPa with u = 8.6 kPa, at least 490 kPa, with 0.99.
  @Test
  void theGuidesExamplesOfOneLimitComeOutAsPrinted() {
    assertEquals(0.92, probability("-5.47", limits(null, "-5.40"), "0.05"), 0.005);
    assertEquals(0.99, probability("509.7", limits("490", null), "8.6"), 0.005);
  }

  // JCGM 106:2012, 7.3.3, Table 1, from memory: how many standard uncertainties inside one limit a reading has to lie
  @ParameterizedTest
  @CsvSource({"0.80, 0.84", "0.90, 1.28", "0.95, 1.64", "0.99, 2.33", "0.999, 3.09"})
  void oneLimitIsKeptWithTheProbabilityOfItsDistance(double probability, String z) {
    double found = probability("0", limits(null, z), "1");
    // the table rounds z to two decimals
    double slack = 0.005 * Math.exp(-Math.pow(Double.parseDouble(z), 2) / 2) / Math.sqrt(2 * Math.PI);
    assertEquals(probability, found, slack);
  }

  // JCGM 106:2012, 8.3.3, guarded rejection, from memory: with a relative standard uncertainty of 2 %, 107 km/h is the
  // first whole speed at which a limit of 100 km/h is exceeded with a probability of at least 99.9 %
  @Test
  void theGuidesExampleOfGuardedRejectionBeginsAt107() {
    assertTrue(probability("107", limits(null, "100"), "2.14") <= 0.001);
    assertTrue(probability("106", limits(null, "100"), "2.12") > 0.001);
  }

  // JCGM 106:2012, 9.5, the figures read in a program that works the example out: resistors of 1499.80 to 1500.20 ohm,
  // made with a standard deviation of 0.12 ohm about 1500 ohm: 0.904 of them conform (2 F(0.2 / 0.12) - 1, computed)
  @Test
  void twoLimitsCutOffBothTails() {
    assertEquals(0.9044, probability("1500", limits("1499.80", "1500.20"), "0.12"), 0.00005);
  }

  // Two expanded uncertainties have the coverage factor 2: at the edge of a guard band of one, F(-2) = 0.02275
  @Test
  void atTheEdgeOfTheGuardBandOneInFortyFourIsAcceptedWrongly() {
    Limits limits = limits(null, "0.30");
    BigDecimal u = new BigDecimal("0.04");
    BigDecimal edge = new BigDecimal("0.26");
    assertEquals(Conformity.CONFORMING, new DecisionRule(BigDecimal.ONE).judge(edge, limits, u));
    assertEquals(0.02275, 1 - Conformance.probability(edge, limits, u), 0.00001);
  }

  // standard normal table values as printed everywhere
  @ParameterizedTest
  @CsvSource({"0, 0.5", "1, 0.8413447", "1.96, 0.9750021", "-2.5, 0.0062097", "4, 0.9999683", "-9, 0", "9, 1"})
  void theNormalDistributionIsThatOfTheTables(double x, double expected) {
    assertEquals(expected, Conformance.normal(x), 5e-8);
  }

  @Test
  void aRiskIsToldInWordsWithTheVerdict() {
    Criterion.Measured offset = (Criterion.Measured) Samples.valves().criteria().stream()
        .filter(c -> c.id().equals("up-offset")).findFirst().orElseThrow();
    Finding.Measured good = offset.measured(Reading.parse("0.1", Unit.MILLIMETRE), limits("-0.3", "0.3"));
    assertEquals("accepted wrongly with a chance below 0.1\u00a0%", good.risk());
    Finding.Measured open = offset.measured(Reading.parse("0.3", Unit.MILLIMETRE), limits("-0.3", "0.3"));
    assertEquals(Conformity.UNDECIDED, open.verdict());
    assertEquals("within the limits with a chance of 50\u00a0%", open.risk());
  }
}

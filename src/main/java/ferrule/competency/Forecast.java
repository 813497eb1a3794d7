package ferrule.competency;

import org.hipparchus.distribution.continuous.FDistribution;
import org.hipparchus.special.Beta;

/**
 * When somebody will have taken the steps that are left, if they go on at their own rate.
 *
 * <p>The idea: steps are taken as the events of a Poisson process happen, at a rate of which nothing is known but that
 * {@code done} were taken in {@code days}. With the prior of Jeffreys for a rate, the time that {@code left} further ones
 * take is {@code days} × {@code left} ÷ ({@code done} + ½) times a variable with the F distribution of 2·{@code left}
 * and 2·{@code done} + 1 degrees of freedom: the quotient of two gamma variables (H. Jeffreys, Theory of Probability,
 * 1961, 3.1, for the prior; W. Nelson, Applied Life Data Analysis, 1982, and G. J. Hahn and W. Q. Meeker, Statistical
 * Intervals, 1991, for the F interval for what is to come; all from memory). So the interval is wide after few steps and
 * narrow after many, and covers both that the rate is not known and that chance goes on.
 *
 * <p>What it leaves out: holidays, and that somebody may speed up or slow down. Of intervals meant to hold in eight of ten
 * cases, eight of ten do if steps come at random, nearly all if they come at even distances, and some 55 of 100 if half of
 * the steps come together with the one before ({@code ForecastTest}).
 *
 * @param done steps taken so far, at least 0
 * @param left steps that are left, at least 1
 * @param days in which they were taken, more than 0
 */
public record Forecast(int done, int left, double days) {

  /** Checks the ranges. */
  public Forecast {
    if (done < 0 || left < 1 || !(days > 0) || Double.isInfinite(days)) {
      throw new IllegalArgumentException(
          "a forecast needs days, and steps that are left; given: " + done + " done, " + left + " left, " + days + " days");
    }
  }

  /** So many days from now it will be done with this chance, between 0 and 1, both exclusive. */
  public double daysUntil(double chance) {
    double quantile = new FDistribution(2.0 * left, 2.0 * done + 1).inverseCumulativeProbability(chance);
    return days * left / (done + 0.5) * quantile;
  }

  /** The chance, 0 to 1, that it will be done within so many days from now. */
  public double chanceWithin(double within) {
    // the F distribution in its form as an incomplete beta function
    return within <= 0 ? 0 : Beta.regularizedBeta(within / (days + within), left, done + 0.5);
  }
}

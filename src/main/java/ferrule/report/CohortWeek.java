package ferrule.report;

import ferrule.competency.Progress;
import ferrule.report.wait.Quartiles;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collection;
import java.util.Optional;

/**
 * How the apprentices of a cohort stood at the end of a day, those who were there then.
 *
 * @param day the day
 * @param apprentices how many were there, at least 1
 * @param competencies how many the edition has by which they were judged then
 * @param complete complete competencies, summed over the apprentices
 * @param quartiles of the numbers that they had complete
 */
public record CohortWeek(LocalDate day, int apprentices, int competencies, int complete, Quartiles quartiles) {

  /** The share of their competencies that is complete, from 0 to 1; 0 if the edition has none. */
  public double share() {
    return competencies == 0 ? 0 : (double) complete / apprentices / competencies;
  }

  /** Figures of these apprentices' progress at the end of a day; empty if there are none. */
  static Optional<CohortWeek> of(LocalDate day, int competencies, Collection<Progress> progress) {
    double[] complete = progress.stream().mapToDouble(Progress::complete).toArray();
    return Quartiles.of(complete).map(quartiles -> new CohortWeek(
        day, complete.length, competencies, (int) Math.round(Arrays.stream(complete).sum()), quartiles));
  }
}

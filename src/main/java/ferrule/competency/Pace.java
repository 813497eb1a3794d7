package ferrule.competency;

import ferrule.people.Cohort;
import java.time.LocalDate;
import java.util.Optional;

/**
 * By when a cohort means to have completed what.
 *
 * @param starts the first day of the cohort's programme
 */
public record Pace(LocalDate starts) {

  /** The pace of a cohort. */
  public static Pace of(Cohort cohort) {
    return new Pace(cohort.startsOn());
  }

  /** The last day of the week by whose end a competency is meant to be complete, if one is planned. */
  public Optional<LocalDate> due(Competency competency) {
    return competency.week().isPresent()
        ? Optional.of(starts.plusWeeks(competency.week().getAsInt()).minusDays(1)) : Optional.empty();
  }

  /** Whether a competency that is not complete at the end of a day should have been. */
  public boolean isBehind(Competency competency, Verdict verdict, LocalDate day) {
    return !verdict.isMet() && due(competency).filter(day::isAfter).isPresent();
  }
}

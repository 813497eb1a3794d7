package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competencies;
import ferrule.competency.Programme;
import ferrule.competency.Progress;
import ferrule.people.Cohort;
import ferrule.people.Person;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * A cohort by competency at one moment.
 *
 * @param cohort whose
 * @param asOf the moment
 * @param programme that its members are judged by
 * @param rows one for each member, by name
 */
public record CohortReport(Cohort cohort, AsOf asOf, Programme programme, List<Row> rows) {

  /**
   * An apprentice and how they stood.
   *
   * @param apprentice who
   * @param progress the verdict on each competency
   */
  public record Row(Person apprentice, Progress progress) {}

  /** Copies the rows. */
  public CohortReport {
    rows = List.copyOf(rows);
  }

  /** The report on these members, judged by the edition that the cohort was on then. */
  public static CohortReport of(Cohort cohort, List<Person> members, Competencies competencies, AsOf asOf) {
    return of(cohort, members, competencies, asOf, competencies.programmeOfCohort(cohort.id(), asOf.instant()));
  }

  /** The report on these members, judged by this edition. */
  public static CohortReport of(
      Cohort cohort, List<Person> members, Competencies competencies, AsOf asOf, Programme programme) {
    Map<UUID, Progress> progress =
        competencies.of(members.stream().map(Person::id).toList(), asOf.instant(), programme);
    return new CohortReport(
        cohort, asOf, programme, members.stream().map(m -> new Row(m, progress.get(m.id()))).toList());
  }

  /** How many of the apprentices have completed a competency. */
  public long completed(String competency) {
    return rows.stream().filter(r -> r.progress().of(competency).isMet()).count();
  }
}

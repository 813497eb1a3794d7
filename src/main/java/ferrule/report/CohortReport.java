package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competencies;
import ferrule.competency.Programme;
import ferrule.competency.Progress;
import ferrule.people.Cohort;
import ferrule.people.Member;
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
   * @param member who
   * @param progress the verdict on each competency
   */
  public record Row(Member member, Progress progress) {

    /** Who. */
    public Person apprentice() {
      return member.person();
    }
  }

  /** Copies the rows. */
  public CohortReport {
    rows = List.copyOf(rows);
  }

  /** The report on these members, judged by the edition that the cohort was on then. */
  public static CohortReport of(Cohort cohort, List<Member> members, Competencies competencies, AsOf asOf) {
    return of(cohort, members, competencies, asOf, competencies.programmeOfCohort(cohort.id(), asOf.instant()));
  }

  /** The report on these members, judged by this edition. */
  public static CohortReport of(
      Cohort cohort, List<Member> members, Competencies competencies, AsOf asOf, Programme programme) {
    Map<UUID, Progress> progress =
        competencies.of(members.stream().map(m -> m.person().id()).toList(), asOf.instant(), programme);
    return new CohortReport(
        cohort, asOf, programme, members.stream().map(m -> new Row(m, progress.get(m.person().id()))).toList());
  }

  /** Whether an apprentice had left by then. */
  public boolean hasLeft(Row row) {
    return row.member().hasLeft(asOf.day());
  }

  /** How many of the apprentices have completed a competency. */
  public long completed(String competency) {
    return rows.stream().filter(r -> r.progress().of(competency).isMet()).count();
  }
}

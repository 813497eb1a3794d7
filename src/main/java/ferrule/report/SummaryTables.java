package ferrule.report;

import ferrule.report.table.Kind;
import ferrule.report.table.TableDefinition;
import java.util.function.Function;

/** The whole programme as tables. */
public final class SummaryTables {

  /** The programme by cohort. */
  public static final TableDefinition<Summary.CohortLine> BY_COHORT =
      counted(
          TableDefinition.<Summary.CohortLine>of("programme-by-cohort", "By cohort", "A cohort.")
              .inFiles("cohort id", Kind.TEXT, "Names the cohort.", l -> l.cohort().id().toString())
              .with("cohort", Kind.TEXT, "Its title.", l -> l.cohort().title())
              .inFiles("starts on", Kind.DATE, "The first day of its programme.", l -> l.cohort().startsOn())
              .inFiles("ends on", Kind.DATE, "The last day of its programme.", l -> l.cohort().endsOn())
              .inFiles("edition", Kind.TEXT, "The edition of the programme that it is on.", Summary.CohortLine::edition)
              .with("apprentices", Kind.COUNT, "How many apprentices are there, without those who had left.",
                  Summary.CohortLine::apprentices)
              .with("finished", Kind.COUNT, "How many of them have every competency complete.",
                  Summary.CohortLine::finished)
              .with("apprentices behind plan", Kind.COUNT,
                  "How many of them lack a competency that is planned to be complete by then.",
                  Summary.CohortLine::behindPlan),
          Summary.CohortLine::counts);

  /** The programme by competency. */
  public static final TableDefinition<Summary.CompetencyLine> BY_COMPETENCY =
      counted(
          TableDefinition.<Summary.CompetencyLine>of("programme-by-competency", "By competency", "A competency.")
              .with("area", Kind.TEXT, "The title of its area.", Summary.CompetencyLine::area)
              .inFiles("competency id", Kind.TEXT, "Names the competency.", Summary.CompetencyLine::id)
              .with("competency", Kind.TEXT, "Its title.", Summary.CompetencyLine::title),
          Summary.CompetencyLine::counts);

  /** One competency by cohort. */
  public static final TableDefinition<Summary.InCohort> COMPETENCY_BY_COHORT =
      counted(
          TableDefinition.<Summary.InCohort>of("competency-by-cohort", "By cohort", "A cohort.")
              .inFiles("cohort id", Kind.TEXT, "Names the cohort.", l -> l.cohort().id().toString())
              .with("cohort", Kind.TEXT, "Its title.", l -> l.cohort().title()),
          Summary.InCohort::counts);

  private SummaryTables() {}

  private static <R> TableDefinition<R> counted(TableDefinition<R> table, Function<R, Summary.Counts> counts) {
    return table
        .with("to complete", Kind.COUNT, "How many there are: each apprentice with each competency.",
            r -> counts.apply(r).of())
        .with("complete", Kind.COUNT, "How many of these are complete.", r -> counts.apply(r).complete())
        .withIfAny("share complete", Kind.SHARE, "The same as a share; empty if there is nothing to complete.",
            r -> counts.apply(r).share())
        .with("behind plan", Kind.COUNT, "How many are not complete and planned to be by then.",
            r -> counts.apply(r).behind())
        .with("lapsed", Kind.COUNT, "How many were complete and have to be shown again.", r -> counts.apply(r).lapsed())
        .with("lapsing", Kind.COUNT,
            "How many are complete and will not be " + Outlook.AHEAD.toDays() + " days later, if nothing is done.",
            r -> counts.apply(r).lapsing());
  }
}

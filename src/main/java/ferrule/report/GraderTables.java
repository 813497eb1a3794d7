package ferrule.report;

import ferrule.report.agreement.Agreement;
import ferrule.report.agreement.Estimate;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.TableDefinition;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** How graders agree, as tables and on paper. */
public final class GraderTables {

  /** A criterion of a task. */
  public record CriterionLine(String task, String criterion, Agreement.OfCriterion of) {}

  /** Two graders on a criterion. */
  public record PairLine(String task, String criterion, String first, String second, Agreement.Pair pair) {}

  /** A grader. */
  public record SeverityLine(String grader, Agreement.Severity severity) {}

  /** The criteria. */
  public static final TableDefinition<CriterionLine> CRITERIA =
      withEstimate(
              TableDefinition.<CriterionLine>of(
                      "grader-agreement", "Agreement by criterion", "A criterion of a task, graded twice without seeing.")
                  .with("task", Kind.TEXT, "The task's title.", CriterionLine::task)
                  .with("criterion", Kind.TEXT, "The criterion's title.", CriterionLine::criterion)
                  .with("works", Kind.COUNT, "How many pieces of work were graded at least twice.", l -> l.of().works())
                  .with("same level", Kind.SHARE, "The share of pairs of graders that chose the same level.",
                      l -> l.of().agreeing()),
              "kappa", "Fleiss' kappa over all graders, with an interval of 95 % by the jackknife", l -> l.of().fleiss())
          .with("enough", Kind.FLAG,
              "Whether there are " + Agreement.ENOUGH + " pieces of work; from fewer nothing is concluded.",
              l -> l.of().works() >= Agreement.ENOUGH);

  /** The pairs of graders. */
  public static final TableDefinition<PairLine> PAIRS =
      withEstimate(
          withEstimate(
              withEstimate(
                  TableDefinition.<PairLine>of("grader-pairs", "Two by two", "Two graders on a criterion of a task.")
                      .with("task", Kind.TEXT, "The task's title.", PairLine::task)
                      .with("criterion", Kind.TEXT, "The criterion's title.", PairLine::criterion)
                      .with("first grader", Kind.TEXT, "One of the two.", PairLine::first)
                      .with("second grader", Kind.TEXT, "The other.", PairLine::second)
                      .with("works", Kind.COUNT, "How many pieces of work both graded.", l -> l.pair().works()),
                  "kappa", "Cohen's kappa, with its large-sample interval of 95 %", l -> l.pair().plain()),
              "linear", "The same with linear weights", l -> l.pair().linear()),
          "quadratic", "The same with quadratic weights", l -> l.pair().quadratic());

  /** Who is stricter. */
  public static final TableDefinition<SeverityLine> SEVERITY =
      withEstimate(
              TableDefinition.<SeverityLine>of("grader-severity", "Who is stricter", "A grader.")
                  .with("grader", Kind.TEXT, "Their full name.", SeverityLine::grader)
                  .with("works", Kind.COUNT, "How many pieces of work they graded that others graded too.",
                      l -> l.severity().works()),
              "difference",
              "How much higher they grade than the others, in hundredths of the scale from its lowest level to its "
                  + "highest; below 0 is stricter; with an interval of 95 %", l -> l.severity().difference())
          .with("clear", Kind.FLAG, "Whether there is enough work and the interval lies on one side of 0.",
              l -> l.severity().isClear());

  private GraderTables() {}

  private static <R> TableDefinition<R> withEstimate(
      TableDefinition<R> definition, String name, String meaning, Function<R, Optional<Estimate>> estimate) {
    return definition
        .withIfAny(name, Kind.NUMBER, meaning + ". None where everybody always chose one level, or with too little work.",
            r -> estimate.apply(r).map(Estimate::value))
        .withIfAny(name + " from", Kind.NUMBER, "The lower end of its interval.", r -> estimate.apply(r).map(Estimate::low))
        .withIfAny(name + " to", Kind.NUMBER, "The upper end of its interval.", r -> estimate.apply(r).map(Estimate::high));
  }

  /** The report on paper. */
  static Printout printout(
      long works, List<SeverityLine> severities, List<CriterionLine> criteria, List<PairLine> pairs,
      List<OverTimeTables.TurnaroundLine> turnaround) {
    return new Printout(
        "How graders agree",
        works + (works == 1 ? " piece" : " pieces") + " of work graded by more than one instructor, each without seeing "
            + "the other's grade. Nothing is concluded from fewer than " + Agreement.ENOUGH + ".",
        List.of(
            Printout.Section.of(SEVERITY.of(severities)),
            Printout.Section.of(CRITERIA.of(criteria)),
            Printout.Section.of(PAIRS.of(pairs)),
            Printout.Section.of(
                OverTimeTables.TURNAROUND.of(turnaround),
                "Over " + OverTime.WEEKS_BACK + " weeks, by the clock, nights and holidays among it.")));
  }
}

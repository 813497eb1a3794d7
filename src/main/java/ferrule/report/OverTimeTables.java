package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.people.Cohort;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.TableDefinition;
import ferrule.report.wait.ProductLimit;
import ferrule.report.wait.Quartiles;
import ferrule.report.wait.Waits;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Figures over time, as tables and on paper. */
public final class OverTimeTables {

  /** A week of a cohort, and the share of the competencies that the plan asks for by its end. */
  public record WeekLine(Cohort cohort, CohortWeek week, double plan) {}

  /** The weeks of a cohort. */
  public static final TableDefinition<WeekLine> WEEKS =
      TableDefinition.<WeekLine>of("weeks", "How far they are", "A week of a cohort's programme, as it stood at its end.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .with("week", Kind.COUNT, "Of the cohort's own programme, from 1.",
              l -> CompletionCurve.weekOf(l.cohort(), l.week().day()))
          .with("last day", Kind.DATE, "The day at whose end it is counted.", l -> l.week().day())
          .with("apprentices", Kind.COUNT, "How many were there on that day.", l -> l.week().apprentices())
          .with("competencies", Kind.COUNT, "How many the edition had that the cohort was on.", l -> l.week().competencies())
          .with("complete", Kind.SHARE, "The share of them that was complete, over all apprentices.", l -> l.week().share())
          .inFiles("lower quartile", Kind.NUMBER, "Of the numbers that the apprentices had complete.",
              l -> l.week().quartiles().lower())
          .with("median", Kind.NUMBER, "Of the numbers that the apprentices had complete.", l -> l.week().quartiles().median())
          .inFiles("upper quartile", Kind.NUMBER, "Of the numbers that the apprentices had complete.",
              l -> l.week().quartiles().upper())
          .with("plan", Kind.SHARE, "The share that the present edition's plan asks for by then.", WeekLine::plan);

  /** What was signed. */
  static final TableDefinition<OverTime.BenchWeek> SIGNED =
      TableDefinition.<OverTime.BenchWeek>of("signed-by-week", "Work through the bench", "A week.")
          .with("week from", Kind.DATE, "Its Monday.", OverTime.BenchWeek::monday)
          .with("signed", Kind.COUNT,
              "Pieces of work signed for the first time, those that were corrected or withdrawn later among them.",
              w -> w.signed().graded())
          .with("second signatures", Kind.COUNT, "Second signatures given.", w -> w.signed().seconds())
          .with("corrections", Kind.COUNT, "Corrections of earlier grades.", w -> w.signed().corrected())
          .with("withdrawn", Kind.COUNT, "Sign-offs taken back.", w -> w.signed().withdrawn());

  /** How long work waits. */
  public static final TableDefinition<ProductLimit.Step> WAITS =
      TableDefinition.<ProductLimit.Step>of("waits", "From ready to graded", "A wait after which some work was graded.")
          .with("after", Kind.number("h"), "Hours since the work was said to be ready, by the clock.", ProductLimit.Step::time)
          .with("waited so long", Kind.COUNT, "How many pieces of work had waited so long.", ProductLimit.Step::atRisk)
          .with("graded", Kind.COUNT, "How many were graded after just so long.", ProductLimit.Step::ended)
          .with("still waiting", Kind.SHARE, "The share that waits longer, by Kaplan and Meier's estimate.",
              ProductLimit.Step::waiting)
          .inFiles("standard error", Kind.NUMBER, "Of that share, by Greenwood's formula.", ProductLimit.Step::error)
          .with("from", Kind.SHARE, "The lower end of its 95 % interval.", ProductLimit.Step::low)
          .with("to", Kind.SHARE, "The upper end.", ProductLimit.Step::high);

  /** What will lapse. */
  static final TableDefinition<OverTime.Coming> LAPSES =
      TableDefinition.<OverTime.Coming>of(
              "lapses", "Will have to be shown again", "A complete competency of an apprentice that will lapse.")
          .with("not complete from", Kind.DATE, "The first day at whose end it is not complete, if nothing is done.",
              OverTime.Coming::day)
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.", c -> c.id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", OverTime.Coming::name)
          .inFiles("competency id", Kind.TEXT, "Names the competency in the programme.", OverTime.Coming::competency)
          .with("competency", Kind.TEXT, "Its title.", OverTime.Coming::title);

  /** A grader's turnaround, with their name. */
  public record TurnaroundLine(String grader, Waits.Turnaround of) {}

  /** How soon graders grade. */
  public static final TableDefinition<TurnaroundLine> TURNAROUND =
      quartiles(
          quartiles(
              TableDefinition.<TurnaroundLine>of("turnaround", "How soon they grade", "A grader.")
                  .with("grader", Kind.TEXT, "Their full name.", TurnaroundLine::grader)
                  .with("graded", Kind.COUNT, "Pieces of work that they graded from the queue.", l -> l.of().fromReady().n()),
              "from ready", "Hours from the apprentice's word to the signature", l -> l.of().fromReady()),
          "from taking", "Hours from opening the work to the signature", l -> l.of().fromTaking());

  private OverTimeTables() {}

  private static TableDefinition<TurnaroundLine> quartiles(
      TableDefinition<TurnaroundLine> definition, String name, String meaning, Function<TurnaroundLine, Quartiles> of) {
    String few = " None with fewer than " + Waits.ENOUGH + ".";
    return definition
        .withIfAny(name + ", a quarter within", Kind.number("h"), meaning + ": the lower quartile." + few,
            l -> l.of().isEnough() ? Optional.of(of.apply(l).lower()) : Optional.empty())
        .withIfAny(name + ", half within", Kind.number("h"), meaning + ": the median." + few,
            l -> l.of().isEnough() ? Optional.of(of.apply(l).median()) : Optional.empty())
        .withIfAny(name + ", three quarters within", Kind.number("h"), meaning + ": the upper quartile." + few,
            l -> l.of().isEnough() ? Optional.of(of.apply(l).upper()) : Optional.empty());
  }

  /** The rows of a cohort's weeks. */
  static List<WeekLine> weeks(CompletionCurve curve, List<Double> plan) {
    return curve.weeks().stream()
        .map(w -> new WeekLine(
            curve.cohort(), w, plan.get(Math.min(plan.size() - 1, CompletionCurve.weekOf(curve.cohort(), w.day())))))
        .toList();
  }

  // -- on paper

  static Printout printout(String title, AsOf asOf, List<Printout.Section> sections) {
    return new Printout(title, "As it stood " + (asOf.past() ? "at the end of " : "on ") + asOf.inWords() + ".", sections);
  }

  static Printout.Section section(OverTimeView.Curve curve, List<WeekLine> weeks) {
    Printout.Section section = Printout.Section.of(WEEKS.of(weeks), curve.says());
    return weeks.isEmpty() ? section : section.with(curve.chart().onPaper());
  }

  static Printout.Section section(OverTimeView.Bench bench, List<OverTime.BenchWeek> weeks) {
    return Printout.Section.of(SIGNED.of(weeks), bench.graded() + " pieces of work signed in " + weeks.size() + " weeks.")
        .with(bench.chart().onPaper());
  }

  static Printout.Section section(OverTimeView.Waiting view, Waits waits) {
    Printout.Section section = Printout.Section.of(WAITS.of(view.enough() ? waits.estimate().steps() : List.of()), view.says());
    return view.enough() ? section.with(view.chart().onPaper()) : section;
  }

  static Printout.Section section(OverTimeView.ComingUp view, List<OverTime.Coming> coming) {
    Printout.Section section = Printout.Section.of(LAPSES.of(coming), view.chart().says());
    return coming.isEmpty() ? section : section.with(view.chart().onPaper());
  }
}

package ferrule.report;

import ferrule.drill.PartNames;
import ferrule.people.Cohort;
import ferrule.report.confusion.Confusion;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.TableDefinition;
import java.util.List;
import java.util.Optional;

/** What a class mixes up, as tables and on paper. */
public final class ConfusionTables {

  /** A part taken for another, with their names. */
  public record CellLine(Cohort cohort, String asked, String takenFor, Confusion.Cell cell) {}

  /** Two parts taken for each other, with their names. */
  public record PairLine(Cohort cohort, String first, String second, Confusion.Pair pair) {}

  private static final String FEW = " None with fewer than " + Confusion.ENOUGH + " answers.";

  /** What was taken for what. */
  public static final TableDefinition<CellLine> CELLS =
      TableDefinition.<CellLine>of("confusion", "What is taken for what", "A part that was taken for another.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("asked id", Kind.TEXT, "Names the part in the glossary.", l -> l.cell().asked().value())
          .with("asked", Kind.TEXT, "The part that was lit or named.", CellLine::asked)
          .inFiles("taken for id", Kind.TEXT, "Names the part in the glossary.", l -> l.cell().takenFor().value())
          .with("taken for", Kind.TEXT, "The part that was named or pointed at instead.", CellLine::takenFor)
          .with("times", Kind.COUNT, "How often.", l -> l.cell().times())
          .with("people", Kind.COUNT, "By how many apprentices.", l -> l.cell().people())
          .with("answers", Kind.COUNT, "How many answers there were about the part that was asked.",
              l -> l.cell().answers())
          .withIfAny("share", Kind.SHARE, "The share of those answers." + FEW,
              l -> l.cell().isEnough() ? Optional.of(l.cell().share()) : Optional.empty());

  /** What is taken for each other. */
  public static final TableDefinition<PairLine> PAIRS =
      TableDefinition.<PairLine>of("confusion-pairs", "What to teach again", "Two parts that are taken for each other.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .with("one part", Kind.TEXT, "One of the two.", PairLine::first)
          .with("other part", Kind.TEXT, "The other.", PairLine::second)
          .with("times", Kind.COUNT, "How often either was taken for the other.", l -> l.pair().times())
          .with("answers", Kind.COUNT, "How many answers there were about either.", l -> l.pair().answers())
          .withIfAny("share", Kind.SHARE, "The share of those answers." + FEW, l -> told(l, l.pair().share()))
          .withIfAny("share from", Kind.SHARE, "The lower end of its 95 % interval, by Wilson's score." + FEW,
              l -> told(l, l.pair().low()))
          .withIfAny("share to", Kind.SHARE, "The upper end." + FEW, l -> told(l, l.pair().high()));

  private ConfusionTables() {}

  private static Optional<Double> told(PairLine line, double share) {
    return line.pair().isEnough() ? Optional.of(share) : Optional.empty();
  }

  /** The rows of what was taken for what. */
  public static List<CellLine> cells(Cohort cohort, Confusion confusion, PartNames names) {
    return confusion.cells().stream()
        .map(c -> new CellLine(cohort, names.heading(c.asked()), names.term(c.takenFor()), c)).toList();
  }

  /** The rows of what is taken for each other. */
  public static List<PairLine> pairs(Cohort cohort, Confusion confusion, PartNames names) {
    return confusion.pairs().stream()
        .map(p -> new PairLine(cohort, names.heading(p.first()), names.term(p.second()), p)).toList();
  }

  /** The report on paper. */
  static Printout printout(Cohort cohort, String when, Confusion confusion, PartNames names) {
    return new Printout(
        "What " + cohort.title() + " mixes up",
        when + ". Of every answer in drills and self-tests in which a part was to be named or found.",
        List.of(
            Printout.Section.of(PAIRS.of(pairs(cohort, confusion, names))),
            Printout.Section.of(CELLS.of(cells(cohort, confusion, names)))));
  }
}

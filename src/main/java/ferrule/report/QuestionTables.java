package ferrule.report;

import ferrule.drill.ItemKind;
import ferrule.glossary.Concept;
import ferrule.glossary.Glossary;
import ferrule.people.Cohort;
import ferrule.report.items.Advice;
import ferrule.report.items.Distractor;
import ferrule.report.items.Reliability;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.TableDefinition;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** How good the questions of a cohort's drills were, as tables and on paper. */
public final class QuestionTables {

  /** A part that a cohort was asked about. */
  public record PartLine(Cohort cohort, String part, Questions.Line line) {

    private boolean isEnough() {
      return line.advice() != Advice.TOO_FEW;
    }

    private Optional<Double> tells() {
      OptionalDouble tells = line.figures().discrimination();
      return line.figures().asked() >= Advice.ANSWERS_FOR_DISCRIMINATION && tells.isPresent()
          ? Optional.of(tells.getAsDouble()) : Optional.empty();
    }
  }

  /** A way in which a cohort was asked. */
  public record WayLine(Cohort cohort, Questions.Way way) {}

  /** The parts. */
  public static final TableDefinition<PartLine> PARTS =
      TableDefinition.<PartLine>of("questions", "Questions by part", "A part that was asked about in drills.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("part id", Kind.TEXT, "Names the part in the glossary.", l -> l.line().part().value())
          .with("part", Kind.TEXT, "Its preferred term.", PartLine::part)
          .with("answers", Kind.COUNT, "How many apprentices answered; each counts with their first answer.",
              l -> l.line().figures().asked())
          .withIfAny("right", Kind.SHARE,
              "The share of the points given: the item difficulty of classical test theory. None with fewer than "
                  + Advice.ANSWERS_FOR_DIFFICULTY + " answers.",
              l -> l.isEnough() ? Optional.of(l.line().figures().difficulty()) : Optional.empty())
          .withIfAny("tells", Kind.NUMBER,
              "The corrected item-total correlation, from -1 to 1. None with fewer than "
                  + Advice.ANSWERS_FOR_DISCRIMINATION + " answers, or where one of the two does not vary.",
              PartLine::tells)
          .withIfAny("hardness", Kind.number("log odds"),
              "The place on the Rasch model's scale about the mean of all questions of the cohort, where the answers "
                  + "determine one.", l -> l.line().place().map(Questions.Place::difficulty))
          .withIfAny("standard error", Kind.number("log odds"), "The standard error of the hardness.",
              l -> l.line().place().map(Questions.Place::standardError))
          .with("what to do", Kind.TEXT, "Advice by the figures.", l -> l.line().advice().sentence());

  /** The ways of asking. */
  public static final TableDefinition<WayLine> WAYS =
      TableDefinition.<WayLine>of("ways-of-asking", "By way of asking", "A way of asking.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .with("what is asked", Kind.TEXT, "The kind of item.", l -> l.way().kind().title())
          .with("answers", Kind.COUNT, "How many answers there were.", l -> l.way().answers())
          .with("right", Kind.SHARE, "The share of the points given.", l -> l.way().right());

  /** An answer that a cohort gave, or could have chosen, when it was asked about a part. */
  public record AnswerLine(Cohort cohort, String part, ItemKind kind, Distractor of) {}

  /** The answers about one part. */
  public static final TableDefinition<AnswerLine> ANSWERS =
      TableDefinition.<AnswerLine>of("answers-to-part", "What was answered", "An answer in one way of asking about a part.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("part", Kind.TEXT, "The part's preferred term.", AnswerLine::part)
          .with("what is asked", Kind.TEXT, "The kind of item.", l -> l.kind().title())
          .with("answer", Kind.TEXT, "What was answered; a name that was typed stands under the part that it was read as.",
              l -> l.of().answer())
          .with("right", Kind.FLAG, "Whether it is the right one.", l -> l.of().right())
          .with("could choose it", Kind.COUNT, "To how many it was offered, or how many answered if nothing was.",
              l -> l.of().offered())
          .with("chose it", Kind.COUNT, "How many did.", l -> l.of().chosen())
          .withIfAny("share", Kind.SHARE,
              "The share of those who could. None with fewer than " + Advice.ANSWERS_FOR_DIFFICULTY + ".",
              l -> l.of().offered() >= Advice.ANSWERS_FOR_DIFFICULTY ? Optional.of(l.of().share()) : Optional.empty())
          .withIfAny("their rest", Kind.SHARE, "The mean score, on the other parts, of those who chose it.",
              l -> l.of().rest().isPresent() ? Optional.of(l.of().rest().getAsDouble()) : Optional.empty())
          .withIfAny("correlation", Kind.NUMBER,
              "Of choosing it with the score on the other parts (point-biserial). None with fewer than "
                  + Advice.ANSWERS_FOR_DISCRIMINATION + ", or where one of the two does not vary.",
              l -> l.of().isEnough() && l.of().correlation().isPresent()
                  ? Optional.of(l.of().correlation().getAsDouble()) : Optional.empty())
          .with("what it says", Kind.TEXT, "Advice by the figures.", l -> l.of().advice().sentence());

  private QuestionTables() {}

  /** The rows of the answers about a part. */
  static List<AnswerLine> answers(Cohort cohort, String part, AnswersToPart answers) {
    return answers.ways().entrySet().stream()
        .flatMap(way -> way.getValue().stream().map(d -> new AnswerLine(cohort, part, way.getKey(), d))).toList();
  }

  /** The rows of the parts. */
  public static List<PartLine> parts(Cohort cohort, Questions questions, Glossary glossary) {
    return questions.lines().stream()
        .map(line -> new PartLine(
            cohort,
            glossary.find(line.part()).map(Concept::term).orElseGet(() -> line.part().value().replace('-', ' ')), line))
        .toList();
  }

  /** The rows of the ways of asking. */
  public static List<WayLine> ways(Cohort cohort, Questions questions) {
    return questions.ways().stream().map(way -> new WayLine(cohort, way)).toList();
  }

  /** How far the totals can be relied on, in sentences. */
  static String reliability(Questions questions) {
    if (questions.reliability().isEmpty()) {
      return "No two parts were asked of the same apprentices, so that nothing can be said of the reliability of totals.";
    }
    Reliability r = questions.reliability().get();
    String of = r.items() + " parts that all of " + r.persons() + " apprentices were asked";
    return r.persons() < Reliability.ENOUGH
        ? "Of the reliability of totals nothing is said: it takes " + Reliability.ENOUGH + " apprentices who were asked the same; "
            + "there are " + of + "."
        : String.format(
            Locale.ENGLISH, "From the %s: reliability of totals %.2f (95 %% interval: %.2f to %.2f), standard error of measurement "
                + "%.1f points of %d.", of, r.alpha(), r.low(), r.high(), r.standardError(), r.items()).replace('-', '−');
  }

  /** The report on paper. */
  static Printout printout(Cohort cohort, Questions questions, Glossary glossary) {
    String persons = questions.persons() + (questions.persons() == 1 ? " apprentice" : " apprentices");
    return new Printout(
        "Questions of " + cohort.title(),
        persons + " answered drills. Everyone counts with their first answer about each part. Nothing is said of a part "
            + "with fewer than " + Advice.ANSWERS_FOR_DIFFICULTY + " answers, nor of what it tells with fewer than "
            + Advice.ANSWERS_FOR_DISCRIMINATION + ". " + reliability(questions),
        List.of(
            Printout.Section.of(PARTS.of(parts(cohort, questions, glossary))),
            Printout.Section.of(WAYS.of(ways(cohort, questions)))));
  }
}

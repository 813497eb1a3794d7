package ferrule.report;

import ferrule.competency.Competency;
import ferrule.competency.Course;
import ferrule.competency.Gap;
import ferrule.competency.Opening;
import ferrule.report.table.Kind;
import ferrule.report.table.Table;
import ferrule.report.table.TableDefinition;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The tables of a cohort's pace, for files and for paper. */
final class PaceTables {

  private record Line(PaceReport whole, PaceReport.Line line) {

    Optional<LocalDate> projected(Function<Course.Projection, LocalDate> day) {
      return line.course().projection().map(day);
    }

    Optional<String> helps(Function<Opening, String> words) {
      return line.helpsMost().map(words);
    }
  }

  private record Bottleneck(PaceReport whole, PaceReport.Bottleneck of) {}

  private static final Kind<Number> A_WEEK = Kind.number("steps a week");

  /** One line for each apprentice. */
  static final TableDefinition<Line> PACE =
      TableDefinition.<Line>of("pace", "Pace and prospects", "An apprentice of the cohort who is there.")
          .inFiles("cohort", Kind.TEXT, "Title of the cohort.", l -> l.whole().report().cohort().title())
          .inFiles("as of", Kind.DATE, "The day of the look.", l -> l.whole().report().asOf().day())
          .inFiles("edition", Kind.TEXT, "The edition of the programme that they are judged by.",
              l -> l.whole().report().programme().edition())
          .with("apprentice", Kind.TEXT, "Their full name.", l -> l.line().row().apprentice().fullName())
          .with("complete", Kind.COUNT, "Competencies that are complete.", l -> l.line().row().progress().complete())
          .with("of", Kind.COUNT, "Competencies that the programme has.",
              l -> l.whole().report().programme().competencies().size())
          .with("due", Kind.COUNT, "Competencies that should be complete by the plan.", l -> l.line().due().size())
          .with("behind", Kind.COUNT, "Those of the due ones that are not complete.", l -> l.line().behind().size())
          .with("steps done", Kind.COUNT,
              "Sign-offs, assemblies named and evenings at the bench that brought them further, since their first day.",
              l -> l.line().course().done())
          .with("steps left", Kind.COUNT, "The same that are left, those that serve several competencies once.",
              l -> l.line().course().left())
          .withIfAny("rate", A_WEEK, "Steps done in a week since their first day.",
              l -> boxed(l.line().course().perWeek()))
          .withIfAny("needed", A_WEEK, "Steps in a week that it takes to be done at the end of the programme.",
              l -> boxed(l.line().course().neededPerWeek(l.whole().report().cohort().endsOn())))
          .withIfAny("earliest", Kind.DATE, "Done before this day with a chance of one in ten, at their own rate.",
              l -> l.projected(Course.Projection::earliest))
          .withIfAny("likely", Kind.DATE, "Done before this day as likely as after, at their own rate.",
              l -> l.projected(Course.Projection::middle))
          .withIfAny("latest", Kind.DATE,
              "Done after this day with a chance of one in ten, at their own rate; empty beyond ten years.",
              l -> l.line().course().projection().flatMap(Course.Projection::latest))
          .withIfAny("in time", Kind.SHARE, "The chance that they are done at the end of the programme.",
              l -> boxed(l.line().chance()))
          .with("prospect", Kind.TEXT, "At risk, may be late, too early to tell, on course or complete.",
              l -> l.line().prospect().word())
          .withIfAny("helps most", Kind.TEXT, "The competency that they can complete next and that opens most others.",
              l -> l.helps(o -> o.competency().title()))
          .inFilesIfAny("missing of it", Kind.TEXT, "What is missing of that, in words.",
              l -> l.helps(o -> l.line().row().progress().of(o.competency().id()).missing().stream()
                  .map(Gap::inWords).collect(Collectors.joining("; and "))))
          .inFilesIfAny("opens", Kind.TEXT, "The competencies that wait for that one.",
              l -> l.helps(o -> titles(o.opens())));

  /** One line for each competency that others wait for. */
  static final TableDefinition<Bottleneck> OPENINGS =
      TableDefinition.<Bottleneck>of("openings", "What opens most", "A competency that others wait for.")
          .inFiles("cohort", Kind.TEXT, "Title of the cohort.", b -> b.whole().report().cohort().title())
          .inFiles("as of", Kind.DATE, "The day of the look.", b -> b.whole().report().asOf().day())
          .with("competency", Kind.TEXT, "Its title.", b -> b.of().competency().title())
          .with("lacking", Kind.COUNT, "Apprentices who lack it.", b -> b.of().lacking())
          .with("ready", Kind.COUNT, "Those of them who lack nothing that must come before it.", b -> b.of().ready())
          .with("waiting", Kind.COUNT, "Competencies that wait for it, over all apprentices.", b -> b.of().waiting())
          .with("opens", Kind.TEXT, "Which those are.", b -> titles(b.of().opens()));

  private PaceTables() {}

  static Table pace(PaceReport report) {
    return PACE.of(report.lines().stream().map(l -> new Line(report, l)).toList(), about(report));
  }

  static Table openings(PaceReport report) {
    return OPENINGS.of(report.bottlenecks().stream().map(b -> new Bottleneck(report, b)).toList(), about(report));
  }

  private static String about(PaceReport report) {
    return report.report().cohort().title() + " " + report.report().asOf().day();
  }

  private static String titles(List<Competency> competencies) {
    return competencies.stream().map(Competency::title).collect(Collectors.joining(", "));
  }

  private static Optional<Number> boxed(OptionalDouble number) {
    return number.isPresent() ? Optional.of(number.getAsDouble()) : Optional.empty();
  }
}

package ferrule.report;

import ferrule.bench.SignedWork;
import ferrule.competency.Area;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Pace;
import ferrule.competency.Verdict;
import ferrule.competency.VerdictWords;
import ferrule.people.Person;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.Table;
import ferrule.report.table.TableDefinition;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** A cohort by competency as a table, and on paper. */
public final class CohortTables {

  // some twenty pages; setting sixteen thousand lines takes most of a gigabyte
  private static final int MOST_LINES_ON_PAPER = 1_000;
  // a report of more is set in parts where nobody waits for it, because setting it whole takes seconds and much memory
  private static final int MOST_CELLS_IN_A_PART = 3_000;

  /** An apprentice and a competency. */
  public record Standing(
      CohortReport report, CohortReport.Row row, Area area, Competency competency, Verdict verdict) {

    Person apprentice() {
      return row.apprentice();
    }

    private Optional<LocalDate> leftOn() {
      return row.member().leftOn().filter(day -> report.hasLeft(row));
    }

    /** Whether it should be complete by the plan and is not. */
    public boolean isBehind() {
      return !report.hasLeft(row)
          && Pace.of(report.cohort()).isBehind(competency, verdict, report.asOf().day());
    }

    private String records() {
      return verdict.works().stream().map(SignedWork::number).map(Object::toString).collect(Collectors.joining(" "));
    }
  }

  /** Every apprentice by every competency. */
  public static final TableDefinition<Standing> COMPETENCIES =
      TableDefinition.<Standing>of(
              "competencies", "Apprentices by competency", "An apprentice and a competency of the programme.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", s -> s.report().cohort().title())
          .inFiles("as of", Kind.DATE, "The day at whose end it stood so.", s -> s.report().asOf().day())
          .inFiles("edition", Kind.TEXT, "The edition of the programme that they are judged by.",
              s -> s.report().programme().edition())
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.",
              s -> s.apprentice().id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", s -> s.apprentice().fullName())
          .inFilesIfAny("left on", Kind.DATE, "The day on which they left, if they had by then.", Standing::leftOn)
          .inFiles("area", Kind.TEXT, "The area of the competency.", s -> s.area().title())
          .inFiles("competency id", Kind.TEXT, "Names the competency in every edition.", s -> s.competency().id())
          .with("competency", Kind.TEXT, "Its title.", s -> s.competency().title())
          .with("state", Kind.TEXT,
              "complete, begun, not begun, or lapsed: once complete and to be shown again.",
              s -> VerdictWords.word(s.verdict()))
          .withIfAny("planned for", Kind.DATE, "The last day of the week by whose end it is meant to be complete.",
              s -> Pace.of(s.report().cohort()).due(s.competency()))
          .with("behind plan", Kind.FLAG, "Whether it should be complete by then and is not, of those who are there.",
              Standing::isBehind)
          .with("steps missing", Kind.COUNT,
              "How many sign-offs, assemblies to name and evenings at the bench are missing; 0 if it is complete.",
              s -> s.verdict().cost())
          .withIfAny("what is missing", Kind.TEXT, "The same in words.",
              s -> s.verdict().isMet() ? Optional.empty() : Optional.of(s.verdict().sentence()))
          .inFiles("sign-offs that count", Kind.COUNT, "How many signed pieces of work count toward it.",
              s -> s.verdict().works().size())
          .inFiles("records", Kind.TEXT, "Their numbers in the log of signed records, with spaces between.",
              Standing::records);

  /** An apprentice of a cohort. */
  private record Line(CohortReport report, CohortReport.Row row) {

    Standing of(Area area, Competency competency) {
      return new Standing(report, row, area, competency, row.progress().of(competency.id()));
    }
  }

  private CohortTables() {}

  /** Every apprentice of a report by every competency. */
  public static Stream<Standing> standings(CohortReport report) {
    return report.rows().stream().map(row -> new Line(report, row))
        .flatMap(line -> report.programme().areas().stream()
            .flatMap(area -> area.competencies().stream().map(c -> line.of(area, c))));
  }

  /** What a filter leaves of a report: only those apprentices and competencies that stand in the state it asks for. */
  private static List<Standing> standings(MatrixFilter filter, MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    return selection.rows().stream().map(row -> new Line(report, row))
        .flatMap(line -> report.programme().areas().stream().flatMap(
            area -> area.competencies().stream().filter(selection.columns()::contains).map(c -> line.of(area, c))))
        .filter(s -> filter.isIn(report, s.row(), s.competency()))
        .toList();
  }

  /** The table of what a filter leaves of a report. */
  static Table table(MatrixFilter filter, MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    return COMPETENCIES.of(standings(filter, selection), report.cohort().title() + " " + report.asOf().day());
  }

  /** What a filter leaves of a report, on paper. */
  static Printout printout(MatrixFilter filter, MatrixFilter.Selection selection) {
    CohortReport report = selection.report();
    return new Printout(
        report.cohort().title() + ": " + filter.inWords(), says(report),
        List.of(listed("", SOME, standings(filter, selection))));
  }

  /**
   * A report on paper, in parts of some thousand cells, each for itself: as many areas as find room, and what is missing in
   * the last. Of a cohort of usual size it is one part, the same as the whole.
   */
  public static List<Printout> parts(CohortReport report) {
    List<List<Printout.Section>> parts = new ArrayList<>(List.of(new ArrayList<>()));
    int cells = 0;
    for (Printout.Section section : printout(report).sections()) {
      int more = section.cells();
      if (cells > 0 && cells + more > MOST_CELLS_IN_A_PART) {
        parts.add(new ArrayList<>());
        cells = 0;
      }
      parts.get(parts.size() - 1).add(section);
      cells += more;
    }
    return IntStream.range(0, parts.size())
        .mapToObj(i -> new Printout(
            report.cohort().title() + (parts.size() == 1 ? "" : ", part " + (i + 1) + " of " + parts.size()),
            says(report), parts.get(i)))
        .toList();
  }

  /** A report on paper: one table for each area, then what is missing. */
  public static Printout printout(CohortReport report) {
    List<Printout.Section> sections = new ArrayList<>();
    for (Area area : report.programme().areas()) {
      sections.add(Printout.Section.of(area.title(), byApprentice(report, area)));
    }
    List<Standing> missing = standings(report).filter(s -> s.isBehind() || s.verdict().isLapsed()).toList();
    sections.add(listed(
        "Behind the plan, or lapsed", MISSING, missing,
        "What each needs to complete it. Every competency that is not complete stands in the table as a file."));
    return new Printout(report.cohort().title(), says(report), sections);
  }

  /** A list on paper; of one that nobody would read there, how many lines each apprentice has in it. */
  private static Printout.Section listed(
      String heading, TableDefinition<Standing> definition, List<Standing> lines, String... says) {
    if (lines.size() <= MOST_LINES_ON_PAPER) {
      return Printout.Section.of(heading, definition.of(lines), says);
    }
    Map<CohortReport.Row, List<Standing>> each =
        lines.stream().collect(Collectors.groupingBy(Standing::row, LinkedHashMap::new, Collectors.toList()));
    return Printout.Section.of(
        heading, COUNTED.of(List.copyOf(each.values())),
        lines.size() + " lines are too many for paper. Here is how many each apprentice has; the lines stand in the table as "
            + "a file.");
  }

  /** One competency on paper: the apprentices who are looked at, those who lack it first. */
  static Printout printout(MatrixFilter.Selection selection, Competency competency) {
    CohortReport report = selection.report();
    List<Standing> lines = standings(MatrixFilter.NONE, selection).stream()
        .sorted(Comparator.comparing(s -> s.verdict().isMet())).toList();
    return new Printout(
        competency.title() + ", " + report.cohort().title(), says(report),
        List.of(Printout.Section.of(
            "", ONE.of(lines), competency.says(), "Proved by: " + competency.requires().inWords() + ".")));
  }

  private static String says(CohortReport report) {
    return report.programme().title() + ", " + (report.asOf().past() ? "at the end of " : "on ")
        + AsOf.inWords(report.asOf().day()) + ". Edition " + report.programme().edition() + ". "
        + report.rows().size() + (report.rows().size() == 1 ? " apprentice." : " apprentices.");
  }

  private static final TableDefinition<Standing> MISSING =
      TableDefinition.<Standing>of("missing", "What is missing", "An apprentice and a competency that is not complete.")
          .with("apprentice", Kind.TEXT, "Their full name.", s -> s.apprentice().fullName())
          .with("competency", Kind.TEXT, "Its title.", s -> s.competency().title())
          .with("missing", Kind.TEXT, "What is missing.", s -> missing(s.verdict()));

  private static final TableDefinition<Standing> SOME =
      TableDefinition.<Standing>of("some", "What is looked at", "An apprentice and a competency.")
          .with("apprentice", Kind.TEXT, "Their full name.", s -> s.apprentice().fullName())
          .with("competency", Kind.TEXT, "Its title.", s -> s.competency().title())
          .with("state", Kind.TEXT, "In words.", CohortTables::state)
          .withIfAny("missing", Kind.TEXT, "What is missing.",
              s -> s.verdict().isMet() ? Optional.empty() : Optional.of(missing(s.verdict())));

  private static final TableDefinition<List<Standing>> COUNTED =
      TableDefinition.<List<Standing>>of("counted", "How many of each", "An apprentice.")
          .with("apprentice", Kind.TEXT, "Their full name.", s -> s.get(0).apprentice().fullName())
          .with("competencies", Kind.COUNT, "How many.", List::size)
          .with("behind plan", Kind.COUNT, "How many of them should be complete and are not.",
              s -> (int) s.stream().filter(Standing::isBehind).count())
          .with("lapsed", Kind.COUNT, "How many of them are to be shown again.",
              s -> (int) s.stream().filter(one -> one.verdict().isLapsed()).count());

  private static final TableDefinition<Standing> ONE =
      TableDefinition.<Standing>of("one-competency", "One competency", "An apprentice.")
          .with("apprentice", Kind.TEXT, "Their full name.", s -> s.apprentice().fullName())
          .with("state", Kind.TEXT, "In words.", CohortTables::state)
          .withIfAny("missing", Kind.TEXT, "What is missing.",
              s -> s.verdict().isMet() ? Optional.empty() : Optional.of(missing(s.verdict())));

  private static String missing(Verdict verdict) {
    return verdict.sentence().replaceFirst("^Missing: ", "");
  }

  private static Table byApprentice(CohortReport report, Area area) {
    TableDefinition<Line> definition =
        TableDefinition.<Line>of("area", area.title(), "An apprentice.")
            .with("apprentice", Kind.TEXT, "Their full name.",
                l -> l.row().apprentice().fullName() + (l.report().hasLeft(l.row()) ? " (left)" : ""));
    for (Competency c : area.competencies()) {
      definition = definition.with(c.title(), Kind.TEXT, c.says(), l -> state(l.of(area, c)));
    }
    return definition.of(report.rows().stream().map(row -> new Line(report, row)).toList());
  }

  private static String state(Standing s) {
    String missing = s.verdict().isMet() ? "" : ", " + s.verdict().cost() + " missing";
    return VerdictWords.word(s.verdict()) + missing + (s.isBehind() ? ", behind plan" : "");
  }
}

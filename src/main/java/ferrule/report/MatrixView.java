package ferrule.report;

import ferrule.competency.Area;
import ferrule.competency.Competency;
import ferrule.competency.Gap;
import ferrule.competency.Pace;
import ferrule.competency.Verdict;
import ferrule.competency.VerdictWords;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;

/** A cohort's report as the page shows it. */
final class MatrixView {

  private MatrixView() {}

  /** An area and how many of its competencies stand beneath it. */
  record Group(String title, int columns) {}

  /** A competency and how many have completed it. */
  record Column(String id, String title, long completed, int of, boolean opens) {}

  /** An apprentice. */
  record Row(UUID id, String name, boolean left, long completed, int of, List<Cell> cells) {}

  /**
   * An apprentice and a competency.
   *
   * @param state the sort of tag
   * @param word the state in a word
   * @param steps how much is missing: sign-offs, assemblies to name, evenings at the bench
   * @param behind whether it should be complete by the plan
   * @param opens whether an area begins with it
   */
  record Cell(String competency, String title, String state, String word, int steps, boolean behind, boolean opens) {}

  /**
   * An apprentice and the one competency that the page is about.
   *
   * @param missing what is missing, in words; empty if it is complete
   */
  record Line(
      UUID id, String name, boolean left, String state, String word, boolean behind, List<String> missing, String hint) {}

  static List<Group> groups(CohortReport report) {
    return report.programme().areas().stream().map(a -> new Group(a.title(), a.competencies().size())).toList();
  }

  static List<Column> columns(CohortReport report) {
    List<Column> columns = new ArrayList<>();
    for (Area area : report.programme().areas()) {
      for (Competency c : area.competencies()) {
        boolean opens = c.equals(area.competencies().get(0));
        columns.add(new Column(c.id(), c.title(), report.completed(c.id()), report.rows().size(), opens));
      }
    }
    return columns;
  }

  static List<Row> rows(CohortReport report) {
    List<Column> columns = columns(report);
    List<Competency> competencies = report.programme().competencies();
    return report.rows().stream()
        .map(r -> {
          List<Cell> cells = new ArrayList<>();
          for (int i = 0; i < columns.size(); i++) {
            cells.add(cell(report, competencies.get(i), r, columns.get(i).opens()));
          }
          return new Row(
              r.apprentice().id(), r.apprentice().fullName(), report.hasLeft(r), r.progress().complete(),
              columns.size(), cells);
        })
        .toList();
  }

  private static Cell cell(CohortReport report, Competency c, CohortReport.Row row, boolean opens) {
    Verdict v = row.progress().of(c.id());
    return new Cell(
        c.id(), c.title(), VerdictWords.state(v), VerdictWords.word(v), v.cost(), isBehind(report, c, row), opens);
  }

  private static boolean isBehind(CohortReport report, Competency c, CohortReport.Row row) {
    return !report.hasLeft(row)
        && Pace.of(report.cohort()).isBehind(c, row.progress().of(c.id()), report.asOf().day());
  }

  /** Every apprentice and one competency, those who lack it first. */
  static List<Line> lines(CohortReport report, Competency c) {
    return report.rows().stream()
        .map(r -> {
          Verdict v = r.progress().of(c.id());
          return new Line(
              r.apprentice().id(), r.apprentice().fullName(), report.hasLeft(r), VerdictWords.state(v),
              VerdictWords.word(v), isBehind(report, c, r), v.missing().stream().map(Gap::inWords).toList(),
              v.hint().orElse(""));
        })
        .sorted(Comparator.comparing(line -> line.missing().isEmpty()))
        .toList();
  }
}

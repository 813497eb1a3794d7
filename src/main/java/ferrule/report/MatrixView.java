package ferrule.report;

import ferrule.competency.Competency;
import ferrule.competency.Gap;
import ferrule.competency.Verdict;
import ferrule.competency.VerdictWords;
import java.util.List;
import java.util.UUID;

/** A cohort's report as the page shows it. */
final class MatrixView {

  private MatrixView() {}

  /** A competency and how many have completed it. */
  record Column(String id, String title, long completed, int of) {}

  /** An apprentice. */
  record Row(UUID id, String name, boolean left, long completed, int of, List<Cell> cells) {}

  /**
   * An apprentice and a competency.
   *
   * @param state the sort of tag
   * @param word the state in a word
   * @param missing what is missing, briefly; empty if it is complete
   */
  record Cell(String competency, String title, String state, String word, List<String> missing) {}

  static List<Column> columns(CohortReport report) {
    return report.programme().competencies().stream()
        .map(c -> new Column(c.id(), c.title(), report.completed(c.id()), report.rows().size()))
        .toList();
  }

  static List<Row> rows(CohortReport report) {
    List<Competency> competencies = report.programme().competencies();
    return report.rows().stream()
        .map(r -> new Row(
            r.apprentice().id(), r.apprentice().fullName(), !r.apprentice().isPresent(), r.progress().complete(),
            competencies.size(),
            competencies.stream().map(c -> cell(c, r.progress().of(c.id()))).toList()))
        .toList();
  }

  private static Cell cell(Competency c, Verdict v) {
    return new Cell(
        c.id(), c.title(), VerdictWords.state(v), VerdictWords.word(v), v.missing().stream().map(Gap::brief).toList());
  }
}

package ferrule.report.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A report on paper as its template shows it. */
final class PrintoutView {

  private PrintoutView() {}

  /** A section. */
  record SectionView(
      String heading, List<String> says, String figure, boolean tabled, List<Column> columns, List<List<CellView>> rows) {}

  /** A cell. */
  record CellView(String text, boolean numeric) {}

  /** What the template {@code report/printout} sees. */
  static Map<String, Object> model(Printout printout) {
    return Map.of(
        "title", printout.title(), "says", printout.says(),
        "sections", printout.sections().stream().map(PrintoutView::view).toList());
  }

  private static SectionView view(Printout.Section section) {
    return new SectionView(
        section.heading(), section.says(), section.figure().orElse(""), section.table().isPresent(), section.columns(),
        section.table().map(PrintoutView::rows).orElse(List.of()));
  }

  private static List<List<CellView>> rows(Table table) {
    List<Column> columns = table.definition().columns();
    List<List<CellView>> rows = new ArrayList<>();
    for (List<Cell> row : table.rows()) {
      List<CellView> cells = new ArrayList<>();
      for (int c = 0; c < columns.size(); c++) {
        if (columns.get(c).onPaper()) {
          cells.add(new CellView(row.get(c).inWords(), columns.get(c).isNumeric()));
        }
      }
      rows.add(cells);
    }
    return rows;
  }
}

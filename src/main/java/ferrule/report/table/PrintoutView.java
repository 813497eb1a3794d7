package ferrule.report.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** A report on paper as its template shows it. */
final class PrintoutView {

  private PrintoutView() {}

  /** Names up to this length are kept on one line at the beginning of a row. */
  private static final int ON_ONE_LINE = 26;

  /** A section. */
  record SectionView(
      String heading, List<String> says, String figure, boolean tabled, List<Column> columns, List<List<CellView>> rows,
      boolean named) {}

  /** A cell. */
  record CellView(String text, boolean numeric) {}

  /** What the template {@code report/printout} sees. */
  static Map<String, Object> model(Printout printout) {
    return Map.of(
        "title", printout.title(), "says", printout.says(),
        "sections", printout.sections().stream().map(PrintoutView::view).toList());
  }

  private static SectionView view(Printout.Section section) {
    List<List<CellView>> rows = section.table().map(PrintoutView::rows).orElse(List.of());
    return new SectionView(
        section.heading(), section.says(), section.figure().orElse(""), section.table().isPresent(), section.columns(),
        rows, rows.stream().allMatch(row -> row.get(0).text().length() <= ON_ONE_LINE));
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

package ferrule.report.table;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * Comma-separated values.
 *
 * <p>A spreadsheet that opens such a file takes a cell that begins with =, +, -, @, a tab, a line break or a null
 * character for a formula and may run it (OWASP ASVS 5.0, 1.2.10). Names and titles are people's own text, so such a text
 * gets an apostrophe in front, which a spreadsheet takes for "this is text". Numbers and times are ours.
 */
final class CsvWriter implements TableWriter {

  private static final String BYTE_ORDER_MARK = "\uFEFF";
  private static final String FORMULA_STARTS = "=+-@\t\r\n\0＝＋－＠";

  private final CSVPrinter printer;

  CsvWriter(TableDefinition<?> definition, OutputStream out) throws IOException {
    Writer text = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8), 1 << 16);
    text.write(BYTE_ORDER_MARK);
    printer = new CSVPrinter(text, CSVFormat.RFC4180);
    printer.printRecord(definition.columns().stream().map(Column::heading).toList());
  }

  @Override
  public void row(List<Cell> cells) throws IOException {
    for (Cell cell : cells) {
      printer.print(cell instanceof Cell.Text words ? safe(words.text()) : cell.plain());
    }
    printer.println();
  }

  /** The text as a cell that no spreadsheet takes for a formula. */
  static String safe(String text) {
    boolean formula = !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0;
    return formula ? "'" + text : text;
  }

  @Override
  public void close() throws IOException {
    printer.close(true);
  }
}

package ferrule.report.table;

import java.io.IOException;
import java.io.OutputStream;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.List;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;

/**
 * A spreadsheet with the headings held in place. Dates are dates and numbers are numbers; a text is never a formula,
 * whatever it begins with. What is more than a sheet can hold goes on in a second one.
 */
final class XlsxWriter implements TableWriter {

  /** The most rows of a sheet, and the most characters of a cell (the specification limits of the common programs). */
  static final int MOST_ROWS = 1_048_576;

  private static final int MOST_CHARACTERS = 32_767;
  private static final int LONGEST_SHEET_NAME = 31;
  private static final int STRETCH = 1_000;
  private static final double SECONDS_A_DAY = 86_400;
  private static final double WIDE = 32;
  private static final double NARROW = 13;
  private static final double MOMENT = 20;

  private final TableDefinition<?> definition;
  private final int mostRows;
  private final Workbook book;
  private Worksheet sheet;
  private int sheets;
  private int next;

  XlsxWriter(TableDefinition<?> definition, OutputStream out) throws IOException {
    this(definition, out, MOST_ROWS);
  }

  XlsxWriter(TableDefinition<?> definition, OutputStream out, int mostRows) throws IOException {
    this.definition = definition;
    this.mostRows = mostRows;
    this.book = new Workbook(out, "Ferrule", null);
    beginSheet();
  }

  private void beginSheet() throws IOException {
    endSheet();
    sheets++;
    String number = sheets == 1 ? "" : " " + sheets;
    String name = definition.name();
    sheet = book.newWorksheet(name.substring(0, Math.min(name.length(), LONGEST_SHEET_NAME - number.length())) + number);
    sheet.freezePane(0, 1);
    sheet.repeatRows(0);
    List<Column> columns = definition.columns();
    for (int c = 0; c < columns.size(); c++) {
      sheet.inlineString(0, c, columns.get(c).heading());
      sheet.style(0, c).bold().wrapText(true).verticalAlignment("top").set();
      sheet.width(c, width(columns.get(c).kind()));
    }
    next = 1;
  }

  private static double width(Kind<?> kind) {
    return kind.equals(Kind.TEXT) ? WIDE : kind.equals(Kind.INSTANT) ? MOMENT : NARROW;
  }

  @Override
  public void row(List<Cell> cells) throws IOException {
    if (next == mostRows) {
      beginSheet();
    }
    for (int c = 0; c < cells.size(); c++) {
      write(c, cells.get(c));
    }
    next++;
    if (next % STRETCH == 0) {
      sheet.flush();
    }
  }

  private void write(int column, Cell cell) {
    if (cell instanceof Cell.Text words) {
      sheet.inlineString(next, column, writable(words.text()));
    } else if (cell instanceof Cell.Flag flag) {
      sheet.value(next, column, flag.yes());
    } else if (cell instanceof Cell.Count count) {
      sheet.value(next, column, count.count());
      format(column, "#,##0");
    } else if (cell instanceof Cell.Share share) {
      sheet.value(next, column, share.share());
      format(column, "0.0%");
    } else if (cell instanceof Cell.Quantity quantity) {
      sheet.value(next, column, quantity.number());
    } else if (cell instanceof Cell.Day day) {
      sheet.value(next, column, day.day());
      format(column, "yyyy-mm-dd");
    } else if (cell instanceof Cell.Moment moment) {
      sheet.value(next, column, LocalDateTime.ofInstant(moment.at(), ZoneOffset.UTC));
      format(column, "yyyy-mm-dd hh:mm:ss");
    } else if (cell instanceof Cell.Length length) {
      sheet.value(next, column, length.length().toMillis() / 1000.0 / SECONDS_A_DAY);
      format(column, "[h]:mm:ss");
    }
  }

  private void format(int column, String format) {
    sheet.style(next, column).format(format).set();
  }

  // XML 1.0 has no way to write most control characters, nor half of a surrogate pair
  private static String writable(String text) {
    String clean = text.codePoints()
        .filter(c -> c == '\t' || c == '\n' || c == '\r' || c >= ' ' && c < 0xD800 || c > 0xDFFF && c != 0xFFFE && c != 0xFFFF)
        .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append).toString();
    return clean.length() <= MOST_CHARACTERS ? clean : clean.substring(0, MOST_CHARACTERS - 1) + "…";
  }

  private void endSheet() throws IOException {
    if (sheet != null) {
      sheet.setAutoFilter(0, 0, Math.max(1, next) - 1, definition.columns().size() - 1);
      sheet.finish();
    }
  }

  @Override
  public void close() throws IOException {
    endSheet();
    book.finish();
  }
}

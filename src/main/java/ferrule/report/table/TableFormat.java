package ferrule.report.table;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;

/** The kinds of file that a table can be written as. */
public enum TableFormat {
  /** Comma-separated values (RFC 4180), in UTF-8 with a byte order mark. */
  CSV("text/csv; charset=utf-8"),
  /** A spreadsheet (ISO/IEC 29500). */
  XLSX("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
  /** A list of objects (RFC 8259), in UTF-8, their keys the columns' headings. */
  JSON("application/json");

  private final String mediaType;

  TableFormat(String mediaType) {
    this.mediaType = mediaType;
  }

  /** What a server says that it is. */
  public String mediaType() {
    return mediaType;
  }

  /** What its files' names end with. */
  public String extension() {
    return name().toLowerCase(java.util.Locale.ROOT);
  }

  /** Begins a file. */
  public TableWriter begin(TableDefinition<?> definition, OutputStream out) throws IOException {
    OutputStream open = new LeftOpen(out);
    return switch (this) {
      case CSV -> new CsvWriter(definition, open);
      case XLSX -> new XlsxWriter(definition, open);
      case JSON -> new JsonWriter(definition, open);
    };
  }

  /** Several tables may go into one stream, such as a zip file's. */
  private static final class LeftOpen extends FilterOutputStream {

    LeftOpen(OutputStream out) {
      super(out);
    }

    @Override
    public void write(byte[] bytes, int from, int length) throws IOException {
      out.write(bytes, from, length);
    }

    @Override
    public void close() throws IOException {
      flush();
    }
  }
}

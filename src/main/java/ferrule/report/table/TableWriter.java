package ferrule.report.table;

import java.io.Closeable;
import java.io.IOException;
import java.util.List;

/** Writes one table into a file, row by row, keeping few rows in memory. Closing it ends the table, not the stream. */
public interface TableWriter extends Closeable {

  /** Writes a row: its cells in the order of the columns. */
  void row(List<Cell> cells) throws IOException;
}

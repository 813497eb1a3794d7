package ferrule.report.bundle;

import ferrule.report.table.TableDefinition;
import ferrule.report.table.TableFormat;
import ferrule.report.table.TableWriter;
import java.io.BufferedOutputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** A table written as a file of every format at once, so that what it is made from is read once. */
final class TableFiles<R> implements Closeable {

  private final TableDefinition<R> definition;
  private final List<Path> files = new ArrayList<>();
  private final List<OutputStream> streams = new ArrayList<>();
  private final List<TableWriter> writers = new ArrayList<>();
  private boolean closed;

  TableFiles(TableDefinition<R> definition, Path folder) throws IOException {
    this.definition = definition;
    for (TableFormat format : TableFormat.values()) {
      Path file = folder.resolve(definition.name() + "." + format.extension());
      OutputStream stream = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16);
      files.add(file);
      streams.add(stream);
      writers.add(format.begin(definition, stream));
    }
  }

  void row(R of) throws IOException {
    var cells = definition.cells(of);
    for (TableWriter writer : writers) {
      writer.row(cells);
    }
  }

  List<Path> files() {
    return files;
  }

  @Override
  public void close() throws IOException {
    if (closed) {
      return;
    }
    closed = true;
    for (TableWriter writer : writers) {
      writer.close();
    }
    for (OutputStream stream : streams) {
      stream.close();
    }
  }
}

package ferrule.report.table;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.util.List;

/** A list of objects; what has no value is null. */
final class JsonWriter implements TableWriter {

  private static final JsonFactory FACTORY = new JsonFactory();

  private final List<Column> columns;
  private final JsonGenerator json;

  JsonWriter(TableDefinition<?> definition, OutputStream out) throws IOException {
    this.columns = definition.columns();
    this.json = FACTORY.createGenerator(out);
    json.writeStartArray();
  }

  @Override
  public void row(List<Cell> cells) throws IOException {
    json.writeRaw('\n');
    json.writeStartObject();
    for (int i = 0; i < cells.size(); i++) {
      json.writeFieldName(columns.get(i).heading());
      write(cells.get(i));
    }
    json.writeEndObject();
  }

  private void write(Cell cell) throws IOException {
    if (cell instanceof Cell.Blank) {
      json.writeNull();
    } else if (cell instanceof Cell.Flag flag) {
      json.writeBoolean(flag.yes());
    } else if (cell instanceof Cell.Count count) {
      json.writeNumber(count.count());
    } else if (cell instanceof Cell.Share || cell instanceof Cell.Quantity) {
      json.writeNumber(new BigDecimal(cell.plain()));
    } else {
      json.writeString(cell.plain());
    }
  }

  @Override
  public void close() throws IOException {
    json.writeEndArray();
    json.writeRaw('\n');
    json.close();
  }
}

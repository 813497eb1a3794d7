package ferrule.upkeep;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.ToStringSerializer;
import java.io.IOException;
import java.time.Instant;
import java.util.List;

/**
 * What a copy of the records holds.
 *
 * @param format 1
 * @param madeAt when its moment was
 * @param engine what it was taken from
 * @param schemas the first site's, then the others'
 * @param keys the files of keys that are in it
 */
record Manifest(int format, Instant madeAt, String engine, List<Schema> schemas, List<String> keys) {

  static final int FORMAT = 1;
  private static final ObjectMapper JSON = new ObjectMapper()
      .registerModule(new SimpleModule()
          .addSerializer(Instant.class, ToStringSerializer.instance)
          .addDeserializer(Instant.class, new InstantReader()));

  private static final class InstantReader extends StdDeserializer<Instant> {

    private static final long serialVersionUID = 1L;

    InstantReader() {
      super(Instant.class);
    }

    @Override
    public Instant deserialize(
        JsonParser parser, DeserializationContext context)
        throws IOException {
      return Instant.parse(parser.getText());
    }
  }

  /**
   * The tables of a site.
   *
   * @param name empty for the first site, which is in whatever schema the database begins with
   * @param migrations the versions that had run, in order
   */
  record Schema(String name, List<String> migrations, List<Content> tables) {}

  /** A table's rows: how many, and their {@link RowSum}. */
  record Content(String table, long rows, String sum) {}

  /** Rows in all. */
  long rows() {
    return schemas.stream().flatMap(s -> s.tables().stream()).mapToLong(Content::rows).sum();
  }

  String text() throws IOException {
    return JSON.writerWithDefaultPrettyPrinter().writeValueAsString(this);
  }

  /** Reads what {@link #text} wrote; an {@link IOException} if it is none. */
  static Manifest read(String text) throws IOException {
    Manifest manifest = JSON.readValue(text, Manifest.class);
    if (manifest.format() != FORMAT) {
      throw new IOException("it is of the format " + manifest.format() + "; this program reads " + FORMAT);
    }
    return manifest;
  }
}

package ferrule.rights;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import ferrule.people.Person;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.TableDefinition;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/**
 * Everything that is kept about a person as one zip file: a table of the database in each JSON file, photos, an overview
 * and, of an apprentice, their record to read, and a text that says what is what. It is written as it is read, a few rows
 * and one photo at a time.
 */
public final class PersonFile {

  private static final JsonFactory JSON = new JsonFactory();

  /** The overview: what there is of each table. */
  static final TableDefinition<Part> OVERVIEW =
      TableDefinition.<Part>of("everything", "What is kept", "A table of the database.")
          .with("file", Kind.TEXT, "Where its rows stand.", Part::file)
          .with("what a row is", Kind.TEXT, "In a sentence.", Part::meaning)
          .with("rows", Kind.COUNT, "How many there are.", Part::rows);

  /** What there is of a table. */
  record Part(String file, String meaning, long rows) {}

  private final PersonDataStore store;
  private final BiFunction<Printout, Instant, byte[]> setter;
  private final Function<Person, Optional<byte[]>> record;
  private final Clock clock;

  /**
   * A maker of such files.
   *
   * @param setter makes a PDF
   * @param record a person's record as a PDF; empty if they have none
   */
  public PersonFile(
      PersonDataStore store, BiFunction<Printout, Instant, byte[]> setter, Function<Person, Optional<byte[]>> record,
      Clock clock) {
    this.store = store;
    this.setter = setter;
    this.record = record;
    this.clock = clock;
  }

  /** Writes a person's file, and leaves the stream open. */
  public void write(Person person, OutputStream out) throws IOException {
    Instant now = clock.instant().truncatedTo(ChronoUnit.SECONDS);
    ZipOutputStream zip = new ZipOutputStream(out, StandardCharsets.UTF_8);
    List<Part> parts = new ArrayList<>();
    for (PersonTables.About rows : PersonTables.ABOUT) {
      parts.add(part(zip, "about/" + rows.table() + ".json", rows.meaning(), to -> store.about(rows, person.id(), to)));
    }
    for (PersonTables.By rows : PersonTables.BY) {
      parts.add(part(zip, "done/" + rows.table() + "." + rows.column() + ".json",
          "That they did something: its id and its times.", to -> store.by(rows, person.id(), to)));
    }
    store.photos(person.id(), (hash, jpeg) -> entry(zip, "photos/" + hash + ".jpg", jpeg));
    record.apply(person).ifPresent(pdf -> entry(zip, "record.pdf", pdf));
    entry(zip, "overview.pdf", setter.apply(overview(person, parts, now), now));
    entry(zip, "readme.txt", readme(person, now).getBytes(StandardCharsets.UTF_8));
    zip.finish();
  }

  private static Part part(ZipOutputStream zip, String file, String meaning, Consumer<Consumer<PersonDataStore.Row>> rows)
      throws IOException {
    zip.putNextEntry(new ZipEntry(file));
    long[] count = new long[1];
    try (JsonGenerator json = JSON.createGenerator(zip).disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET)) {
      json.writeStartArray();
      rows.accept(row -> {
        count[0]++;
        write(json, row);
      });
      json.writeEndArray();
    }
    zip.closeEntry();
    return new Part(file, meaning, count[0]);
  }

  private static void write(JsonGenerator json, PersonDataStore.Row row) {
    try {
      json.writeRaw('\n');
      json.writeStartObject();
      for (int i = 0; i < row.columns().size(); i++) {
        json.writeFieldName(row.columns().get(i));
        write(json, row.values().get(i));
      }
      json.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void write(JsonGenerator json, Object value) throws IOException {
    if (value instanceof Number || value instanceof Boolean || value == null) {
      json.writeObject(value);
    } else {
      json.writeString(value instanceof byte[] bytes ? Base64.getEncoder().encodeToString(bytes) : value.toString());
    }
  }

  private static void entry(ZipOutputStream zip, String name, byte[] bytes) {
    try {
      zip.putNextEntry(new ZipEntry(name));
      zip.write(bytes);
      zip.closeEntry();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Printout overview(Person person, List<Part> parts, Instant now) {
    List<Part> filled = parts.stream().filter(p -> p.rows() > 0).toList();
    return new Printout(
        "Everything that is kept about " + person.fullName(),
        "Made on " + now + ". They sign in as " + person.signInName() + ", " + person.role().word() + ".",
        List.of(Printout.Section.of(OVERVIEW.of(filled))));
  }

  private static String readme(Person person, Instant now) {
    return String.join("\n",
        "Everything that is kept about " + person.fullName() + ", made on " + now + ".",
        "",
        "overview.pdf    what there is, to read",
        "record.pdf      the record of an apprentice, to read",
        "about/          rows about the person, a file of JSON for each table of the database; an empty list says that",
        "                there are none. Times are in UTC (ISO 8601).",
        "done/           that the person did something, in each way in which the database can say so: ids and times",
        "                alone, because what it was about may be others'",
        "photos/         photos of the person's work, named by their SHA-256",
        "",
        "Left out: hashes and secrets by which somebody is let in (passwords, PINs, codes, tokens), and the network",
        "addresses of others who looked. What a backup holds besides is what stood here when it was made.",
        "");
  }
}

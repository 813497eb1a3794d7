package ferrule.upkeep;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;

/**
 * Copies of all records of an installation, its sites and all: into a file (a backup), from a file into a clean database
 * (a restore), and from one database into another (a move), whichever engine each has.
 *
 * <p>A backup is a zip file with the rows of each table as lines of JSON ({@code rows/SITE/TABLE.jsonl}), the files of the
 * keys that sign the logs ({@code keys/}), and {@code manifest.json}, which names every table with its number of rows and
 * their {@link RowSum}. It is read as of one moment while the server goes on. What was written is read again before it
 * counts. A restore makes the tables as the migrations of that day made them, fills them, and compares what it finds there
 * with the manifest.
 */
public final class Copies {

  private static final String MANIFEST = "manifest.json";

  private Copies() {}

  /**
   * What was copied.
   *
   * @param tables how many
   * @param rows in all of them
   * @param schemas one for each site
   * @param keys the names of the files of keys that are in it
   */
  public record Copied(Instant madeAt, int schemas, int tables, long rows, List<String> keys) {

    static Copied of(Manifest manifest) {
      int tables = manifest.schemas().stream().mapToInt(s -> s.tables().size()).sum();
      return new Copied(manifest.madeAt(), manifest.schemas().size(), tables, manifest.rows(), manifest.keys());
    }
  }

  /**
   * Copies a database into a file, readable by its owner alone, and reads the file again.
   *
   * @param headKey the file of the key that signs the first site's log; those of other sites stand beside it. Empty to
   *     leave the keys out
   * @throws IOException if the file cannot be written, or does not hold what was written
   */
  public static Copied backUp(Address from, Optional<Path> headKey, Path file) throws IOException {
    Path part = file.resolveSibling(file.getFileName() + ".part");
    Files.createDirectories(file.toAbsolutePath().getParent());
    Files.deleteIfExists(part);
    try {
      Files.createFile(part, ownerOnly());
      try (OutputStream out = Files.newOutputStream(part); ZipOutputStream zip = new ZipOutputStream(out)) {
        write(from, headKey, zip);
      }
      try (FileChannel channel = FileChannel.open(part, StandardOpenOption.WRITE)) {
        channel.force(true);
      }
      Copied copied = check(part);
      Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
      return copied;
    } catch (SQLException e) {
      throw new IOException("the database cannot be read: " + e.getMessage(), e);
    } finally {
      Files.deleteIfExists(part);
    }
  }

  private static FileAttribute<?>[] ownerOnly() {
    boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
    return posix
        ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))}
        : new FileAttribute<?>[0];
  }

  private static void write(Address from, Optional<Path> headKey, ZipOutputStream zip) throws IOException, SQLException {
    List<Manifest.Schema> schemas = new ArrayList<>();
    Instant madeAt = Instant.now().truncatedTo(ChronoUnit.SECONDS);
    try (Connection connection = from.connect()) {
      Records.freeze(from, connection);
      for (String place : Table.schemas(connection)) {
        String name = Records.nameInCopy(connection, place);
        List<Manifest.Content> contents = new ArrayList<>();
        for (Table table : Table.in(connection, place)) {
          contents.add(write(connection, place, name, table, zip));
        }
        schemas.add(new Manifest.Schema(name, Records.migrations(connection, place), contents));
      }
      connection.rollback();
    }
    List<String> keys = new ArrayList<>();
    for (Path key : headKey.map(Copies::keyFiles).orElse(List.of())) {
      // the first site's is called the same everywhere, whatever file the setting names
      String name = "head-key" + key.getFileName().toString().substring(headKey.get().getFileName().toString().length());
      zip.putNextEntry(new ZipEntry("keys/" + name));
      zip.write(Files.readAllBytes(key));
      zip.closeEntry();
      keys.add(name);
    }
    zip.putNextEntry(new ZipEntry(MANIFEST));
    String engine = from.isPostgres() ? "PostgreSQL" : "H2";
    zip.write(new Manifest(Manifest.FORMAT, madeAt, engine, schemas, keys).text().getBytes(StandardCharsets.UTF_8));
    zip.closeEntry();
  }

  private static List<Path> keyFiles(Path headKey) {
    String name = headKey.getFileName().toString();
    try (Stream<Path> beside = Files.list(headKey.toAbsolutePath().getParent())) {
      return beside
          .filter(p -> p.getFileName().toString().equals(name) || p.getFileName().toString().startsWith(name + "-"))
          .filter(Files::isRegularFile)
          .sorted()
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException("the key that signs the log cannot be read: " + headKey, e);
    }
  }

  private static Manifest.Content write(
      Connection connection, String place, String name, Table table, ZipOutputStream zip)
      throws IOException, SQLException {
    zip.putNextEntry(new ZipEntry(entry(name, table.name())));
    RowSum sum = new RowSum();
    BufferedWriter writer = new BufferedWriter(new OutputStreamWriter(zip, StandardCharsets.UTF_8));
    new Rows(place, table).read(connection, line -> {
      sum.add(line);
      try {
        writer.write(line);
        writer.write('\n');
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    });
    writer.flush();
    zip.closeEntry();
    return new Manifest.Content(table.name(), sum.rows(), sum.hex());
  }

  private static String entry(String schema, String table) {
    return "rows/" + (schema.isEmpty() ? "first" : "at-" + schema) + "/" + table + ".jsonl";
  }

  /**
   * Reads a backup through and compares it with its manifest.
   *
   * @throws IOException if it is none, or damaged; the message says where
   */
  public static Copied check(Path file) throws IOException {
    try (ZipFile zip = new ZipFile(file.toFile())) {
      checkEntries(zip, file);
      Manifest manifest = manifest(zip, file);
      for (Manifest.Schema schema : manifest.schemas()) {
        for (Manifest.Content expected : schema.tables()) {
          RowSum sum = new RowSum();
          read(zip, schema.name(), expected.table(), sum::add);
          if (sum.rows() != expected.rows() || !sum.hex().equals(expected.sum())) {
            throw new IOException("the backup " + file + " is damaged: the rows of " + expected.table()
                + " are not those that were written");
          }
        }
      }
      return Copied.of(manifest);
    } catch (ZipException | SQLException | UncheckedIOException e) {
      throw new IOException("the backup " + file + " is damaged or none: " + e.getMessage(), e);
    }
  }

  // whoever reads an entry of a zip file at random is not told that its checksum is wrong
  private static void checkEntries(ZipFile zip, Path file) throws IOException {
    byte[] buffer = new byte[1 << 16];
    for (ZipEntry entry : zip.stream().toList()) {
      CRC32 sum = new CRC32();
      try (InputStream in = zip.getInputStream(entry)) {
        for (int read = in.read(buffer); read >= 0; read = in.read(buffer)) {
          sum.update(buffer, 0, read);
        }
      }
      if (sum.getValue() != entry.getCrc()) {
        throw new IOException("the backup " + file + " is damaged: " + entry.getName() + " is not what was written");
      }
    }
  }

  private static Manifest manifest(ZipFile zip, Path file) throws IOException {
    ZipEntry entry = zip.getEntry(MANIFEST);
    if (entry == null) {
      throw new IOException(file + " is no backup: it holds no " + MANIFEST);
    }
    try (InputStream in = zip.getInputStream(entry)) {
      return Manifest.read(new String(in.readAllBytes(), StandardCharsets.UTF_8));
    }
  }

  private static void read(ZipFile zip, String schema, String table, Records.Lines lines) throws SQLException {
    ZipEntry entry = zip.getEntry(entry(schema, table));
    if (entry == null) {
      return; // a table that the copy knows nothing of has no rows
    }
    try (BufferedReader reader =
        new BufferedReader(new InputStreamReader(zip.getInputStream(entry), StandardCharsets.UTF_8))) {
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        lines.accept(line);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("the rows of " + table + " cannot be read: " + e.getMessage(), e);
    }
  }

  /**
   * Fills a clean database from a backup. If that fails, the database is left as clean as it was. Newer migrations than
   * those of the backup run when the database is next opened.
   *
   * @param headKey where the first site's key goes; those of other sites go beside it. A key that is there already stays
   * @throws IOException if the backup is damaged or a key cannot be written
   * @throws IllegalStateException if the database is not clean or cannot be filled; the message says why
   */
  public static Copied restore(Path file, Address into, Path headKey) throws IOException {
    check(file);
    try (ZipFile zip = new ZipFile(file.toFile())) {
      Manifest manifest = manifest(zip, file);
      fill(into, manifest, (schema, table, lines) -> read(zip, schema, table, lines));
      for (String name : manifest.keys()) {
        Path key = headKey.resolveSibling(headKey.getFileName() + name.substring("head-key".length()));
        if (!Files.exists(key)) {
          Files.createDirectories(key.toAbsolutePath().getParent());
          Files.createFile(key, ownerOnly());
          try (InputStream in = zip.getInputStream(zip.getEntry("keys/" + name))) {
            Files.write(key, in.readAllBytes());
          }
        }
      }
      return Copied.of(manifest);
    }
  }

  private static void fill(Address into, Manifest manifest, Records.Source source) {
    try {
      try (Connection connection = into.connect()) {
        if (!Records.isClean(connection)) {
          throw new IllegalStateException("the database " + into.url().place()
              + " is not empty: a copy goes into a new folder or an empty database, so that nothing is overwritten");
        }
      }
      try {
        Records.fill(into, manifest, source);
      } catch (SQLException | RuntimeException e) {
        Records.empty(into);
        throw e;
      }
    } catch (SQLException e) {
      throw new IllegalStateException("the copy failed: " + e.getMessage(), e);
    }
  }

  /**
   * Fills a clean database from another one, as of one moment.
   *
   * @throws IllegalStateException if the database is not clean or cannot be filled; the message says why
   */
  public static Copied move(Address from, Address into) {
    try (Connection source = from.connect()) {
      Records.freeze(from, source);
      List<Manifest.Schema> schemas = new ArrayList<>();
      for (String place : Table.schemas(source)) {
        schemas.add(new Manifest.Schema(
            Records.nameInCopy(source, place), Records.migrations(source, place), Records.contents(source, place)));
      }
      Manifest manifest = new Manifest(
          Manifest.FORMAT, Instant.now().truncatedTo(ChronoUnit.SECONDS), from.isPostgres() ? "PostgreSQL" : "H2",
          schemas, List.of());
      fill(into, manifest, (schema, table, lines) -> readTable(source, schema, table, lines));
      source.rollback();
      return Copied.of(manifest);
    } catch (SQLException e) {
      throw new IllegalStateException("the database cannot be read: " + e.getMessage(), e);
    }
  }

  private static void readTable(Connection source, String schema, String name, Records.Lines lines)
      throws SQLException {
    String place = schema.isEmpty() ? source.getSchema() : schema;
    for (Table table : Table.in(source, place)) {
      if (table.name().equals(name)) {
        new Rows(place, table).read(source, lines);
      }
    }
  }
}

package ferrule.app;

import ferrule.ledger.HeadSigner;
import ferrule.site.Site;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Predicate;
import picocli.CommandLine.Option;

/** The options that say where the records are: shared by every command that opens them. */
final class DatabaseOptions {

  @Option(
      names = "--data",
      paramLabel = "DIR",
      defaultValue = "${env:FERRULE_DATA:-data}",
      description = "Folder of the embedded database (FERRULE_DATA; default: ${DEFAULT-VALUE}).")
  private Path data;

  @Option(
      names = "--db",
      paramLabel = "URL",
      defaultValue = "${env:FERRULE_DB_URL}",
      description = "PostgreSQL in place of the embedded database, for example jdbc:postgresql://localhost/ferrule "
          + "(FERRULE_DB_URL). User and password: FERRULE_DB_USER and FERRULE_DB_PASSWORD.")
  private String url;

  /** Opens the database, making or migrating it as needed; an embedded one has this name below the data folder. */
  Database open(String name) {
    DatabaseUrl where = given(url).map(DatabaseUrl::parse).orElseGet(() -> DatabaseUrl.h2File(data, name));
    return Database.open(where, given(System.getenv("FERRULE_DB_USER")), given(System.getenv("FERRULE_DB_PASSWORD")));
  }

  /**
   * Opens a database that has been filled, filling it first where it is empty. An embedded one is filled under another
   * name and gets its own when it is complete, so that one whose filling was cut short is never taken for whole.
   *
   * @param isEmpty whether a database has still to be filled
   * @param fill fills an empty one
   * @throws UncheckedIOException if the filled database cannot get its name; the message says which file
   */
  Database openFilled(String name, Predicate<Database> isEmpty, Consumer<Database> fill) {
    if (given(url).isEmpty() && !Files.exists(file(name))) {
      fillAside(name, fill);
    }
    Database database = open(name);
    if (isEmpty.test(database)) {
      fill.accept(database);
    }
    return database;
  }

  private void fillAside(String name, Consumer<Database> fill) {
    String aside = name + "-unfinished";
    try {
      Files.deleteIfExists(file(aside));
      try (Database database = open(aside)) {
        fill.accept(database);
      }
      Files.move(file(aside), file(name));
    } catch (IOException e) {
      throw new UncheckedIOException("the filled database cannot be moved to " + file(name), e);
    }
  }

  private Path file(String name) {
    return data.resolve(name + ".mv.db");
  }

  /**
   * Opens a database that is there already: a wrong folder must not look like an empty record.
   *
   * @throws IllegalStateException if there is none or it cannot be opened; the message says what to do
   */
  Database openExisting(String name) {
    if (given(url).isEmpty() && !Files.exists(file(name))) {
      throw new IllegalStateException("there is no database at " + file(name) + "; name its folder with --data");
    }
    try {
      return open(name);
    } catch (RuntimeException e) {
      throw new IllegalStateException(
          "the database cannot be opened: " + e.getMessage()
              + ". An embedded one is open to one program at a time: stop the server first", e);
    }
  }

  /**
   * The signer of the heads of a site's log. Its key is in the file {@code head-key} in the data folder, made when it is
   * first wanted, or in the file that FERRULE_HEAD_KEY names, as where several nodes share one. Each further site has a key
   * of its own in a file beside that one, such as {@code head-key-night-bench}: what one programme's key signs says
   * nothing about another's log.
   *
   * @throws UncheckedIOException if the file cannot be read or made; the message says which
   */
  HeadSigner signer(Site site) {
    Path first = given(System.getenv("FERRULE_HEAD_KEY")).map(Path::of).orElseGet(() -> data.resolve("head-key"));
    Path file = site.isFirst() ? first : first.resolveSibling(first.getFileName() + "-" + site.name());
    try {
      return HeadSigner.kept(file);
    } catch (IOException e) {
      throw new UncheckedIOException("the key that signs the log's heads cannot be used: " + e.getMessage(), e);
    }
  }

  private static Optional<String> given(String text) {
    return Optional.ofNullable(text).filter(t -> !t.isBlank());
  }
}

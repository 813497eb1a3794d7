package ferrule.app;

import ferrule.ledger.HeadSigner;
import ferrule.site.Site;
import ferrule.store.CannotOpen;
import ferrule.store.Database;
import ferrule.store.DatabaseProbe;
import ferrule.store.DatabaseUrl;
import ferrule.upkeep.Address;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import picocli.CommandLine.Option;

/** The options that say where the records are: shared by every command that opens them. */
final class DatabaseOptions {

  private static final Logger LOG = LoggerFactory.getLogger(DatabaseOptions.class);

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
          + "(FERRULE_DB_URL).")
  private String url;

  @Option(
      names = "--db-user",
      paramLabel = "NAME",
      defaultValue = "${env:FERRULE_DB_USER}",
      description = "The database's user (FERRULE_DB_USER).")
  private String user;

  @Option(
      names = "--db-password-file",
      paramLabel = "FILE",
      defaultValue = "${env:FERRULE_DB_PASSWORD_FILE}",
      description = "A file that holds the database's password (FERRULE_DB_PASSWORD_FILE; or the password itself in "
          + "FERRULE_DB_PASSWORD).")
  private Path passwordFile;

  // a password on a command line can be read by everybody on the machine: meant for the environment alone
  @Option(names = "--db-password", hidden = true, defaultValue = "${env:FERRULE_DB_PASSWORD}")
  private String password;

  @Option(
      names = "--db-wait",
      paramLabel = "SECONDS",
      defaultValue = "${env:FERRULE_DB_WAIT:-0}",
      description = "How long to wait for a database server that is still starting "
          + "(FERRULE_DB_WAIT; default: ${DEFAULT-VALUE}).")
  private int waitSeconds;

  @Option(
      names = "--head-key",
      paramLabel = "FILE",
      defaultValue = "${env:FERRULE_HEAD_KEY}",
      description = "The file of the key that signs the log; nodes that share a database share it "
          + "(FERRULE_HEAD_KEY; default: head-key in the data folder).")
  private Path headKey;

  @Option(
      names = "--config",
      paramLabel = "FILE",
      defaultValue = "${env:FERRULE_CONFIG}",
      description = "A file of settings, one a line, such as FERRULE_PORT=8710, for what is neither on the command line "
          + "nor in the environment (FERRULE_CONFIG).")
  private Path config;

  /**
   * Opens the database, making or migrating it as needed; an embedded one has this name below the data folder.
   *
   * @throws CannotOpen if it cannot be opened; the message says why
   */
  Database open(String name) {
    Instant until = Instant.now().plusSeconds(waitSeconds);
    while (true) {
      try {
        return Database.open(where(name), given(user), password());
      } catch (CannotOpen e) {
        if (!e.mayPass() || Instant.now().isAfter(until)) {
          throw e;
        }
        pause(e);
      }
    }
  }

  private static void pause(CannotOpen e) {
    LOG.warn("{}; it is tried again", e.getMessage());
    try {
      Thread.sleep(2_000);
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      throw e;
    }
  }

  /** Asks that database whether it answers, beside all that use it. */
  DatabaseProbe probe(String name) {
    return new DatabaseProbe(where(name), given(user), password());
  }

  /** Where the database is, for those who copy it as a whole. */
  Address address(String name) {
    return new Address(where(name), given(user), password());
  }

  /** Where the embedded database of the data folder is, whatever else is set. */
  Address embedded(String name) {
    return new Address(DatabaseUrl.h2File(data, name), Optional.empty(), Optional.empty());
  }

  /** Whether the database is the embedded one. */
  boolean isEmbedded() {
    return given(url).isEmpty();
  }

  /**
   * Sees to it that an embedded database that is to be read is there: reading would make an empty one.
   *
   * @throws IllegalStateException if there is none; the message says what to do
   */
  void expectFile(String name) {
    if (!Files.exists(file(name))) {
      throw new IllegalStateException("there is no database at " + file(name) + "; name its folder with --data");
    }
  }

  /** The data folder. */
  Path data() {
    return data;
  }

  private DatabaseUrl where(String name) {
    return given(url).map(DatabaseUrl::parse).orElseGet(() -> DatabaseUrl.h2File(data, name));
  }

  private Optional<String> password() {
    if (passwordFile == null || passwordFile.toString().isBlank()) {
      return given(password);
    }
    try {
      return Optional.of(Files.readString(passwordFile).strip());
    } catch (IOException e) {
      throw new IllegalArgumentException(
          "the file of the database's password (FERRULE_DB_PASSWORD_FILE) cannot be read: " + passwordFile, e);
    }
  }

  /**
   * Opens a database that has been filled, filling it first where it is empty. An embedded one is filled under another
   * name and gets its own when it is complete, so that one whose filling was cut short is never taken for whole.
   *
   * @param isEmpty whether a database has still to be filled
   * @param fill fills an empty one
   * @throws UncheckedIOException if another start is filling it, or its folder cannot be written to; the message says which
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
    Path lock = data.resolve(name + "-unfinished.lock");
    try {
      Files.createDirectories(data);
      // closing gives the turn back
      try (FileChannel turn = FileChannel.open(lock, StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
        if (!isTaken(turn)) {
          throw new UncheckedIOException(
              "another start is filling " + file(name) + "; wait for it, or name another folder with --data",
              new IOException("locked"));
        }
        if (!Files.exists(file(name))) {
          fillAndName(name, fill);
        }
        Files.deleteIfExists(lock);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(
          "the database " + file(name) + " cannot be filled; is " + data + " a folder that may be written to?", e);
    }
  }

  private void fillAndName(String name, Consumer<Database> fill) throws IOException {
    String aside = name + "-unfinished";
    Files.deleteIfExists(file(aside));
    try (Database database = open(aside)) {
      fill.accept(database);
    }
    Files.move(file(aside), file(name));
  }

  /** Takes the turn to fill a database, in which another start would take away what this one has; false if another has it. */
  private static boolean isTaken(FileChannel turn) throws IOException {
    try {
      return turn.tryLock() != null;
    } catch (OverlappingFileLockException e) {
      return false; // held within this program
    }
  }

  /** The file of an embedded database. */
  Path file(String name) {
    return data.resolve(name + ".mv.db");
  }

  /**
   * Opens a database that is there already: a wrong folder must not look like an empty record.
   *
   * @throws IllegalStateException if there is none or it cannot be opened; the message says what to do
   */
  Database openExisting(String name) {
    if (isEmbedded()) {
      expectFile(name);
    }
    try {
      return open(name);
    } catch (CannotOpen e) {
      throw new IllegalStateException(e.getMessage(), e);
    }
  }

  /**
   * The signer of the heads of a site's log. Its key is in the file {@code head-key} in the data folder, made when it is
   * first wanted, or in the file that --head-key names, as where several nodes share one. Each further site has a key
   * of its own in a file beside that one, such as {@code head-key-night-bench}: what one programme's key signs says
   * nothing about another's log.
   *
   * @throws UncheckedIOException if the file cannot be read or made; the message says which
   */
  HeadSigner signer(Site site) {
    Path file = headKeyFile(site);
    try {
      return HeadSigner.kept(file);
    } catch (IOException e) {
      throw new UncheckedIOException("the key that signs the log's heads cannot be used: " + e.getMessage(), e);
    }
  }

  /** The file of the key that signs the heads of the first site's log. */
  Path headKeyFile() {
    return headKey == null || headKey.toString().isBlank() ? data.resolve("head-key") : headKey;
  }

  private Path headKeyFile(Site site) {
    Path first = headKeyFile();
    return site.isFirst() ? first : first.resolveSibling(first.getFileName() + "-" + site.name());
  }

  private static Optional<String> given(String text) {
    return Optional.ofNullable(text).filter(t -> !t.isBlank());
  }
}

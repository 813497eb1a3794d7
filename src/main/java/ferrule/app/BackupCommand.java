package ferrule.app;

import ferrule.store.CannotOpen;
import ferrule.upkeep.Errand;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Copies all records into one file, while the server runs. */
@Command(
    name = "backup",
    mixinStandardHelpOptions = true,
    description = {
      "Copies all records of all sites, as of one moment, into one file, while the server goes on; reads it back before it "
          + "counts. The key that signs the log goes with it, so that a restore goes on signing in the same name: keep the "
          + "file as safe as the server itself, or leave the key out (--without-key) and keep a copy of it apart."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:made", "1:it could not be made", "2:the records cannot be read"})
final class BackupCommand implements Callable<Integer> {

  private static final String FILE = "file ";
  static final String FAILED = "failed: ";

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(names = "--to", paramLabel = "FILE", description = "The file (default: in the folder backups below the data).")
  private Path file;

  @Option(names = "--without-key", description = "Leave out the key that signs the log.")
  private boolean withoutKey;

  @Option(
      names = "--rehearse",
      description = "Restore it into a folder that is thrown away, and recompute the logs there.")
  private boolean rehearse;

  @Override
  public Integer call() {
    Path to = Optional.ofNullable(file).orElseGet(() -> databaseOptions.data().resolve("backups").resolve(fileName(Clock.systemUTC())));
    try {
      spec.commandLine().getOut().println(make(to.toAbsolutePath()));
      return ExitCode.OK;
    } catch (IOException e) {
      spec.commandLine().getErr().println("no backup was made: " + e.getMessage());
      return ExitCode.SOFTWARE;
    } catch (IllegalStateException | CannotOpen e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }

  /** The name of a backup that is made now. */
  static String fileName(Clock clock) {
    return "ferrule-" + LocalDateTime.ofInstant(clock.instant(), ZoneOffset.UTC).format(DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HHmmss"))
        + ".backup.zip";
  }

  private String make(Path to) throws IOException {
    String name = demo ? "demo" : "ferrule";
    if (databaseOptions.isEmbedded()) {
      databaseOptions.expectFile(name);
    }
    try {
      Optional<Path> key = withoutKey ? Optional.empty() : Optional.of(databaseOptions.headKeyFile());
      return new Backups(databaseOptions.address(name), key).make(to, rehearse);
    } catch (CannotOpen e) {
      if (!e.isTaken()) {
        throw e;
      }
      return askServer(name, to, e);
    }
  }

  private String askServer(String name, Path to, CannotOpen taken) throws IOException {
    String answer;
    try {
      answer = Errand.ask(databaseOptions.file(name), (withoutKey ? "k" : "-") + (rehearse ? "r" : "-") + FILE + to);
    } catch (IOException e) {
      throw new IllegalStateException(taken.getMessage(), e);
    }
    if (answer.startsWith(FAILED)) {
      throw new IOException(answer.substring(FAILED.length()));
    }
    return answer;
  }

  /** Answers what {@link #askServer} asks, at the server. */
  static String serve(Backups all, String line) {
    try {
      Path to = Path.of(line.substring(2 + FILE.length()));
      Backups asked = line.charAt(0) == 'k' ? new Backups(all.from(), Optional.empty()) : all;
      return asked.make(to, line.charAt(1) == 'r');
    } catch (IOException | RuntimeException e) {
      return FAILED + String.valueOf(e.getMessage()).replaceAll("\\R", " ");
    }
  }
}

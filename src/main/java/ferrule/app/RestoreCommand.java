package ferrule.app;

import ferrule.store.CannotOpen;
import ferrule.upkeep.Address;
import ferrule.upkeep.Copies;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Fills a clean folder or an empty database from a backup, and checks all of it. */
@Command(
    name = "restore",
    mixinStandardHelpOptions = true,
    description = {
      "Fills a clean folder (--data) or an empty PostgreSQL database (--db) from a backup, compares every row with it, "
          + "brings the tables up to date and recomputes the log of every site. Nothing is ever overwritten. A backup of "
          + "either sort of database goes into either."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:restored, and all of it right", "1:not restored"})
final class RestoreCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;

  @Parameters(paramLabel = "FILE", description = "The backup.")
  private Path file;

  @Option(names = "--demo", description = "Restore it as the records of the demo programme.")
  private boolean demo;

  @Override
  public Integer call() {
    Instant begun = Instant.now();
    Address into = databaseOptions.address(demo ? "demo" : "ferrule");
    try {
      Copies.Copied copied = Copies.restore(file, into, databaseOptions.headKeyFile());
      tell("restored " + Backups.words(copied) + " into " + into.url().place());
      RecordCheck.everySite(into).forEach(this::tell);
      if (copied.keys().isEmpty()) {
        tell("The backup holds no key. Put the file head-key back before you start the server, or it makes a new one, which "
            + "must be told to everyone who checks signatures.");
      }
      tell("Whoever was erased after this backup was made is in it by name. It cannot know them: erase them again (person ID"
          + " --erase).");
      tell("all of it in " + Backups.seconds(begun));
      return ExitCode.OK;
    } catch (IOException | IllegalStateException | CannotOpen e) {
      spec.commandLine().getErr().println("not restored: " + e.getMessage());
      return ExitCode.SOFTWARE;
    }
  }

  private void tell(String line) {
    spec.commandLine().getOut().println(line);
    spec.commandLine().getOut().flush();
  }
}

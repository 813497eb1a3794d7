package ferrule.app;

import ferrule.store.CannotOpen;
import ferrule.upkeep.Address;
import ferrule.upkeep.Copies;
import java.time.Instant;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Moves an installation from the embedded database into PostgreSQL. */
@Command(
    name = "move",
    mixinStandardHelpOptions = true,
    description = {
      "Copies all records of all sites from the embedded database of the data folder (--data) into an empty PostgreSQL "
          + "database (--db), compares every row, and recomputes the log of every site there. Stop the server first. "
          + "The embedded database stays as it is. The key that signs the log stays in the data folder: go on starting the "
          + "server with the same --data."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:moved, and all of it right", "1:not moved", "2:the options do not say from where and to where"})
final class MoveCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Override
  public Integer call() {
    if (databaseOptions.isEmbedded()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "say with --db (FERRULE_DB_URL) into which PostgreSQL database the records go");
    }
    Instant begun = Instant.now();
    String name = demo ? "demo" : "ferrule";
    Address into = databaseOptions.address(name);
    try {
      databaseOptions.expectFile(name);
      Copies.Copied copied = Copies.move(databaseOptions.embedded(name), into);
      tell("moved " + copied.rows() + " rows in " + copied.tables() + " tables of " + copied.schemas()
          + (copied.schemas() == 1 ? " site" : " sites") + " into " + into.url().place());
      RecordCheck.everySite(into).forEach(this::tell);
      tell("all of it in " + Backups.seconds(begun));
      return ExitCode.OK;
    } catch (IllegalStateException | CannotOpen e) {
      spec.commandLine().getErr().println("not moved: " + e.getMessage());
      return ExitCode.SOFTWARE;
    }
  }

  private void tell(String line) {
    spec.commandLine().getOut().println(line);
    spec.commandLine().getOut().flush();
  }
}

package ferrule.app;

import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.ZoneId;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;

/** The options of a command that reads the records of one site as its pages show them, and writes files from them. */
final class RecordsOptions {

  @Mixin private DatabaseOptions databaseOptions;
  @Mixin private SiteOption siteOption;
  @Mixin private CurriculumOption curriculumOption;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      defaultValue = "${env:FERRULE_ZONE:-UTC}",
      description = "The school's time zone, in which days end (FERRULE_ZONE; default: ${DEFAULT-VALUE}).")
  private String zone;

  /** What is done with the site's records while they are open. */
  interface Work {
    void with(Installation installation) throws IOException;
  }

  /** The school's time zone; a {@link DateTimeException} if there is none of that name. */
  ZoneId zone() {
    return ZoneId.of(zone);
  }

  /**
   * Opens the records, does the work, and closes them.
   *
   * @param failed what is said, before the reason, if a file cannot be written
   * @return the exit code: 0 done, 1 a file could not be written, 2 the records cannot be read
   */
  int read(CommandSpec spec, String failed, Work work) {
    Clock clock = Clock.systemUTC();
    try (Database first = databaseOptions.openExisting(demo ? "demo" : "ferrule")) {
      Site site = siteOption.of(first);
      work.with(new Installation(
          Books.read(curriculumOption.open()), new SiteStore(first, clock), site, databaseOptions.signer(site), clock,
          zone()));
      spec.commandLine().getOut().flush();
      return ExitCode.OK;
    } catch (IOException | UncheckedIOException e) {
      spec.commandLine().getErr().println(failed + ": " + e.getMessage());
      return ExitCode.SOFTWARE;
    } catch (IllegalStateException | FaultyCurriculum | DateTimeException e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }
}

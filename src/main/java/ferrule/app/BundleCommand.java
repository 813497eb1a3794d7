package ferrule.app;

import ferrule.competency.AsOf;
import ferrule.people.Cohort;
import ferrule.report.bundle.BundleMaker;
import ferrule.report.bundle.Headway;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Writes an accreditation bundle. */
@Command(
    name = "bundle",
    mixinStandardHelpOptions = true,
    description =
        "Writes an accreditation bundle: a zip file with the reports as PDF, the data as CSV, XLSX and JSON with a data "
            + "dictionary, the evidence, and the signed records. “verify --bundle” checks it without anything of the "
            + "school.",
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:written", "1:the file could not be written", "2:the records cannot be read"})
final class BundleCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;
  @Mixin private SiteOption siteOption;
  @Mixin private CurriculumOption curriculumOption;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(names = "--cohort", paramLabel = "TITLE", description = "Of this cohort alone, such as “First year”.")
  private String cohort;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "File to write (default: bundle-, the cohort or “programme”, the day, .zip).")
  private Path out;

  @Option(
      names = "--as-of",
      paramLabel = "DATE",
      description = "As it stood at the end of this day, such as 2026-11-01; today if absent.")
  private String asOf;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      defaultValue = "${env:FERRULE_ZONE:-UTC}",
      description = "The school's time zone, in which days end (FERRULE_ZONE; default: ${DEFAULT-VALUE}).")
  private String zone;

  @Override
  public Integer call() {
    Clock clock = Clock.systemUTC();
    AsOf moment = moment(clock);
    try (Database first = databaseOptions.openExisting(demo ? "demo" : "ferrule")) {
      Site site = siteOption.of(first);
      Installation installation = new Installation(
          Books.read(curriculumOption.open()), new SiteStore(first, clock), site, databaseOptions.signer(site), clock,
          ZoneId.of(zone));
      Optional<Cohort> of = cohort(installation);
      Path file = out == null ? Path.of(BundleMaker.fileName(of, moment)) : out;
      write(installation.bundles(), of, moment, file);
      spec.commandLine().getOut().println(file + ": " + Files.size(file) + " bytes; check it with verify --bundle " + file);
      spec.commandLine().getOut().flush();
      return ExitCode.OK;
    } catch (IOException | UncheckedIOException e) {
      spec.commandLine().getErr().println("the bundle could not be written: " + e.getMessage());
      return ExitCode.SOFTWARE;
    } catch (IllegalStateException | FaultyCurriculum e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }

  private AsOf moment(Clock clock) {
    try {
      return AsOf.parse(Optional.ofNullable(asOf), clock, ZoneId.of(zone));
    } catch (IllegalArgumentException | DateTimeException e) {
      throw new CommandLine.ParameterException(spec.commandLine(), e.getMessage());
    }
  }

  private Optional<Cohort> cohort(Installation installation) {
    if (cohort == null) {
      return Optional.empty();
    }
    return Optional.of(installation.people().cohorts().stream().filter(c -> c.title().equals(cohort)).findFirst()
        .orElseThrow(() -> new IllegalStateException("there is no cohort “" + cohort + "”; there are: "
            + installation.people().cohorts().stream().map(Cohort::title).collect(Collectors.joining(", ")))));
  }

  // under another name until it is whole
  private void write(BundleMaker maker, Optional<Cohort> of, AsOf moment, Path file) throws IOException {
    Path unfinished = file.resolveSibling(file.getFileName() + ".unfinished");
    try (OutputStream bytes = new BufferedOutputStream(Files.newOutputStream(unfinished))) {
      maker.write(of, moment, bytes, told());
    } catch (IOException | RuntimeException e) {
      Files.deleteIfExists(unfinished);
      throw e;
    }
    Files.move(unfinished, file, StandardCopyOption.REPLACE_EXISTING);
  }

  /** Tells each step on the error stream. */
  private Headway told() {
    return new Headway() {
      @Override
      public void begin(String step, long total) {
        spec.commandLine().getErr().println(step);
        spec.commandLine().getErr().flush();
      }

      @Override
      public void advance(long by) {
        // the steps are told
      }
    };
  }
}

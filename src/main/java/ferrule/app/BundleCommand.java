package ferrule.app;

import ferrule.competency.AsOf;
import ferrule.people.Cohort;
import ferrule.report.bundle.BundleMaker;
import ferrule.report.bundle.Headway;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
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
  @Mixin private RecordsOptions records;
  @Mixin private AsOfOption asOf;

  @Option(names = "--cohort", paramLabel = "TITLE", description = "Of this cohort alone, such as “First year”.")
  private String cohort;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "File to write (default: bundle-, the cohort or “programme”, the day, .zip).")
  private Path out;

  @Override
  public Integer call() {
    AsOf moment = asOf.moment(spec, records);
    return records.read(spec, "the bundle could not be written", installation -> {
      Optional<Cohort> of = cohort(installation);
      Path file = out == null ? Path.of(BundleMaker.fileName(of, moment)) : out;
      write(installation.bundles(), of, moment, file);
      spec.commandLine().getOut().println(file + ": " + Files.size(file) + " bytes; check it with verify --bundle " + file);
    });
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

package ferrule.app;

import ferrule.competency.AsOf;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogFile;
import ferrule.ledger.TreeHead;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.people.Role;
import ferrule.report.CohortReport;
import ferrule.report.CohortTables;
import ferrule.report.table.Table;
import ferrule.report.table.TableFormat;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Writes each cohort's report and the log of signed records into a folder. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = {
      "Writes into a folder: for each cohort a spreadsheet file (CSV) of every member by competency, with what is "
          + "missing; and records.jsonl, the log of signed records, which “verify --file” recomputes."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:written", "1:a file could not be written", "2:the records cannot be read"})
final class ExportCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private RecordsOptions records;
  @Mixin private AsOfOption asOf;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      defaultValue = "export",
      description = "Folder to write into, made if need be (default: ${DEFAULT-VALUE}).")
  private Path out;

  @Override
  public Integer call() {
    AsOf moment = asOf.moment(spec, records);
    return records.read(spec, "the export into " + out + " failed", installation -> {
      Files.createDirectories(out);
      for (Cohort cohort : installation.people().cohorts()) {
        writeReport(installation, cohort, moment);
      }
      writeLog(installation);
    });
  }

  private void writeReport(Installation installation, Cohort cohort, AsOf moment) throws IOException {
    List<Member> members = installation.people().roster(cohort.id()).stream()
        .filter(m -> m.person().role() == Role.APPRENTICE)
        .filter(m -> !moment.past() || m.hasJoined(moment.day()))
        .toList();
    CohortReport report = CohortReport.of(cohort, members, installation.competencies(), moment);
    Table table = CohortTables.COMPETENCIES.of(
        CohortTables.standings(report).toList(), cohort.title() + " " + moment.day());
    Path file = out.resolve(table.fileName(TableFormat.CSV));
    try (OutputStream bytes = Files.newOutputStream(file)) {
      table.write(TableFormat.CSV, bytes);
    }
    tell(file + ": " + members.size() + " apprentices by " + report.programme().competencies().size()
        + " competencies");
  }

  private void writeLog(Installation installation) throws IOException {
    LedgerStore ledger = installation.ledger();
    installation.heads().current();
    Path file = out.resolve("records.jsonl");
    try (BufferedWriter writer = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
      LogFile.write(HeadStore.witnesses(installation.database()), writer);
      Optional<TreeHead> head = ledger.read(entry -> {
        try {
          LogFile.write(entry, writer);
        } catch (IOException e) {
          throw new UncheckedIOException(e);
        }
      });
      if (head.isEmpty()) {
        tell(file + ": the log's own head is gone or cannot be read; run verify");
        return;
      }
      LogFile.write(head.get(), writer);
      tell(file + ": " + head.get().size() + " records, fingerprint " + head.get().root());
    }
  }

  private void tell(String line) {
    PrintWriter console = spec.commandLine().getOut();
    console.println(line);
    console.flush();
  }
}

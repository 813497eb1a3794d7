package ferrule.app;

import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogFile;
import ferrule.ledger.TreeHead;
import ferrule.store.Database;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Recomputes the log of signed records and names the first record that has been touched. */
@Command(
    name = "verify",
    mixinStandardHelpOptions = true,
    description = {
      "Recomputes the log of signed records, from the database or from an exported file, and names the first record "
          + "that was altered, removed or inserted.",
      "",
      "What it proves: the records are those, in that order, from which the fingerprints beside them were computed. "
          + "With a fingerprint that was noted earlier and kept elsewhere (--head and --size, as a printed record shows "
          + "them), also that the records up to then are still those of that day.",
      "What it does not prove: whoever can write to the database can rewrite a record and every fingerprint after it; "
          + "only a fingerprint kept elsewhere shows that. It says nothing about whether the work was judged well."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:nothing was touched", "1:something was touched", "2:it cannot be read"})
final class VerifyCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(names = "--file", paramLabel = "FILE", description = "An exported log in place of the database.")
  private Path file;

  @Option(names = "--head", paramLabel = "HEX", description = "A fingerprint of the book that was noted earlier.")
  private String head;

  @Option(names = "--size", paramLabel = "N", description = "The number of records that it was noted at.")
  private Long size;

  @Override
  public Integer call() {
    Optional<TreeHead> noted = noted();
    try {
      return tell(file == null ? ofDatabase(noted) : ofFile(noted));
    } catch (MalformedInputException e) {
      return tell(new LogCheck.Touched(1, "the file is not UTF-8 text"));
    } catch (IOException e) {
      spec.commandLine().getErr().println("the file " + file + " cannot be read: " + e.getMessage());
      return ExitCode.USAGE;
    } catch (IllegalStateException e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }

  private Optional<TreeHead> noted() {
    if ((head == null) != (size == null)) {
      throw new CommandLine.ParameterException(spec.commandLine(), "--head and --size go together; give both");
    }
    try {
      return Optional.ofNullable(head).map(h -> new TreeHead(size, h));
    } catch (IllegalArgumentException e) {
      throw new CommandLine.ParameterException(spec.commandLine(), e.getMessage());
    }
  }

  private LogCheck.Result ofDatabase(Optional<TreeHead> noted) {
    try (Database database = databaseOptions.openExisting(demo ? "demo" : "ferrule")) {
      return new LedgerStore(database).check(noted);
    }
  }

  private LogCheck.Result ofFile(Optional<TreeHead> noted) throws IOException {
    try (BufferedReader in = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
      return LogFile.check(in, noted);
    }
  }

  private int tell(LogCheck.Result result) {
    PrintWriter out = spec.commandLine().getOut();
    if (result instanceof LogCheck.Touched touched) {
      out.println("TOUCHED at record " + touched.number() + ": " + touched.sentence());
      return ExitCode.SOFTWARE;
    }
    TreeHead now = ((LogCheck.Sound) result).head();
    out.println(now.size() + (now.size() == 1 ? " record" : " records") + ", none altered, removed or inserted");
    out.println("Note this and keep it elsewhere: --size " + now.size() + " --head " + now.root());
    return ExitCode.OK;
  }
}

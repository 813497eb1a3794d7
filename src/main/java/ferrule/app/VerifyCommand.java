package ferrule.app;

import ferrule.bench.PhotoStore;
import ferrule.drill.RulingStore;
import ferrule.ledger.HeadKey;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogFile;
import ferrule.ledger.ProofFile;
import ferrule.ledger.SignedHead;
import ferrule.ledger.TreeHead;
import ferrule.ledger.Vouched;
import ferrule.ledger.Witnesses;
import ferrule.report.bundle.BundleCheck;
import ferrule.store.Database;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.LongConsumer;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Recomputes the log and names the first record that has been touched; or checks a file of proofs. */
@Command(
    name = "verify",
    mixinStandardHelpOptions = true,
    description = {
      "Recomputes the log of signed records, from the database or from an exported file, and names the first record "
          + "that was altered, removed, inserted or moved. Or checks a file of proofs. Nothing else is needed: no server, "
          + "no network.",
      "",
      "What it proves: the records are those, in that order, from which the fingerprints beside them were computed; the "
          + "signed heads were signed with the key that is named. With a fingerprint that was noted earlier and kept "
          + "elsewhere (--head and --size, as a printed record shows them), also that the records up to then are still "
          + "those of that day. With a public key that was noted earlier (--key), only heads signed with it count.",
      "What it does not prove: whoever can write to the database and holds the signing key can rewrite a record and every "
          + "fingerprint and signature after it; only a fingerprint kept elsewhere shows that. It says nothing about "
          + "whether a PIN was lent, or whether the work was judged well."
    },
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:nothing was touched", "1:something was touched", "2:it cannot be read"})
final class VerifyCommand implements Callable<Integer> {

  private static final long TELL_EVERY = 50_000;

  @Spec private CommandSpec spec;
  @Mixin private DatabaseOptions databaseOptions;
  @Mixin private SiteOption siteOption;

  @Option(names = "--demo", description = "The records of the demo programme.")
  private boolean demo;

  @Option(names = "--file", paramLabel = "FILE", description = "An exported log in place of the database.")
  private Path file;

  @Option(
      names = "--proof",
      paramLabel = "FILE",
      description = "A file of proofs in place of the database, as a record's or the book's page gives it.")
  private Path proof;

  @Option(
      names = "--bundle",
      paramLabel = "FILE",
      description = "An accreditation bundle in place of the database: its seal, every file in it, and its records.")
  private Path bundle;

  @Option(names = "--head", paramLabel = "HEX", description = "A fingerprint of the book that was noted earlier.")
  private String head;

  @Option(names = "--size", paramLabel = "N", description = "The number of records that it was noted at.")
  private Long size;

  @Option(
      names = "--key",
      paramLabel = "BASE64",
      description = "The public key that was noted earlier; heads signed with another do not count.")
  private String key;

  @Override
  public Integer call() {
    Optional<TreeHead> noted = noted();
    Optional<HeadKey> trusted = trusted();
    try {
      if (bundle != null) {
        return tell(BundleCheck.check(bundle, trusted, progress()));
      }
      if (proof != null) {
        return tell(ofProof(noted, trusted));
      }
      return tell(file == null ? ofDatabase(noted, trusted) : ofFile(noted, trusted));
    } catch (MalformedInputException e) {
      return tell(new LogCheck.Touched(1, "the file is not UTF-8 text"));
    } catch (IOException e) {
      spec.commandLine().getErr().println("the file " + given() + " cannot be read: " + e.getMessage());
      return ExitCode.USAGE;
    } catch (IllegalStateException e) {
      spec.commandLine().getErr().println(e.getMessage());
      return ExitCode.USAGE;
    }
  }

  private Path given() {
    return bundle != null ? bundle : proof != null ? proof : file;
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

  private Optional<HeadKey> trusted() {
    try {
      return Optional.ofNullable(key).map(HeadKey::of);
    } catch (IllegalArgumentException e) {
      throw new CommandLine.ParameterException(spec.commandLine(), e.getMessage());
    }
  }

  private LogCheck.Result ofDatabase(Optional<TreeHead> noted, Optional<HeadKey> trusted) {
    try (Database first = databaseOptions.openExisting(demo ? "demo" : "ferrule")) {
      Database database = siteOption.tables(first);
      Witnesses all = HeadStore.witnesses(database).with(noted);
      Witnesses witnesses = trusted.map(all::signedWith).orElse(all);
      if (trusted.isPresent() && witnesses.signed().isEmpty()) {
        throw new IllegalStateException("no head here was signed with the key that you trust");
      }
      return new LedgerStore(database).check(witnesses, vouched(database), progress());
    }
  }

  /** What features keep beside the log, which vouches for it. */
  static List<Vouched> vouched(Database database) {
    return List.of(new RulingStore(database), new PhotoStore(database, Clock.systemUTC()));
  }

  private LogCheck.Result ofFile(Optional<TreeHead> noted, Optional<HeadKey> trusted) throws IOException {
    try (BufferedReader in = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
      return LogFile.check(in, noted, trusted, List.of(), progress());
    }
  }

  private ProofFile.Result ofProof(Optional<TreeHead> noted, Optional<HeadKey> trusted) throws IOException {
    try (BufferedReader in = Files.newBufferedReader(proof, StandardCharsets.UTF_8)) {
      return ProofFile.check(in, noted, trusted);
    }
  }

  /** Tells on the error stream how far it is, so that the outcome can be read by a program. */
  private LongConsumer progress() {
    long[] told = new long[1];
    return done -> {
      if (done - told[0] >= TELL_EVERY) {
        told[0] = done - done % TELL_EVERY;
        spec.commandLine().getErr().printf("%,d records checked%n", told[0]);
        spec.commandLine().getErr().flush();
      }
    };
  }

  private int tell(LogCheck.Result result) {
    PrintWriter out = spec.commandLine().getOut();
    if (result instanceof LogCheck.Touched touched) {
      out.println("TOUCHED at record " + touched.number() + ": " + touched.sentence());
      return ExitCode.SOFTWARE;
    }
    LogCheck.Sound sound = (LogCheck.Sound) result;
    TreeHead now = sound.head();
    out.println(now.size() + (now.size() == 1 ? " record" : " records") + ", none altered, removed or inserted");
    if (sound.redacted() > 0) {
      out.println(sound.redacted() + " of them redacted by erasures, which vouch for the texts that stand there now");
    }
    out.println("Note this and keep it elsewhere: --size " + now.size() + " --head " + now.root());
    return ExitCode.OK;
  }

  private int tell(ProofFile.Result result) {
    PrintWriter out = spec.commandLine().getOut();
    if (result instanceof ProofFile.Unproven unproven) {
      out.println("NOT PROVED: " + unproven.sentence());
      return ExitCode.SOFTWARE;
    }
    ProofFile.Proven proven = (ProofFile.Proven) result;
    out.println(proven.records() + (proven.records() == 1 ? " record" : " records") + " proved to be in the log");
    for (SignedHead signed : proven.heads()) {
      out.println("at the head of " + signed.head().size() + " records, signed on " + signed.at() + ": "
          + signed.head().root());
    }
    out.println("Signed with the key " + proven.key().publicKey() + (key == null
        ? "; that it is the school's, only a key noted elsewhere shows (--key)" : ", which you trust"));
    return ExitCode.OK;
  }

  private int tell(BundleCheck.Result result) {
    PrintWriter out = spec.commandLine().getOut();
    if (result instanceof BundleCheck.Unsound unsound) {
      out.println("TOUCHED: " + unsound.sentence());
      return ExitCode.SOFTWARE;
    }
    BundleCheck.Sound sound = (BundleCheck.Sound) result;
    TreeHead sealed = sound.seal().head();
    out.println(sound.files() + " files and " + sound.records() + " records, none altered, added or taken away since "
        + sound.seal().at());
    out.println("The log stood at " + sealed.size() + " records: " + sealed.root());
    out.println("Signed with the key " + sound.seal().key().publicKey() + (key == null
        ? "; that it is the school's, only a key noted elsewhere shows (--key)" : ", which you trust"));
    return ExitCode.OK;
  }
}

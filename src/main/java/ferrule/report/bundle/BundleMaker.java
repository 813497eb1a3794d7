package ferrule.report.bundle;

import ferrule.bench.TaskBook;
import ferrule.competency.AsOf;
import ferrule.competency.BenchHours;
import ferrule.competency.Desk;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.HoursStore;
import ferrule.competency.Programme;
import ferrule.ledger.FileSeal;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogEntry;
import ferrule.ledger.LogFile;
import ferrule.ledger.ProofFile;
import ferrule.ledger.Proofs;
import ferrule.ledger.ProvenEntry;
import ferrule.ledger.SignedHead;
import ferrule.ledger.TreeHead;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.report.CohortReport;
import ferrule.report.CohortTables;
import ferrule.report.CohortTables.Standing;
import ferrule.report.SchoolTables;
import ferrule.report.table.Kind;
import ferrule.report.table.Printout;
import ferrule.report.table.Table;
import ferrule.report.table.TableDefinition;
import ferrule.report.table.TableFormat;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.stream.Stream;

/**
 * Makes the accreditation bundle of the whole programme or of one cohort: a zip file with the reports on paper, the data
 * in three formats, the evidence, the data dictionary, the signed log (or, for a cohort, its records with their proofs),
 * and a seal over all of it. It is written as it is made: of the apprentices one cohort is in memory at a time, of the log
 * one stretch. The tables lie in a folder of their own until each is whole, because three formats are written at once.
 */
public final class BundleMaker {

  /** The name of the seal's file, the only one that it does not count. */
  static final String SEAL = "seal.json";
  /** The whole log, in a bundle of the whole programme. */
  static final String LOG = "records.jsonl";
  /** Records with their proofs, in a bundle of a cohort. */
  static final String PROOFS = "proofs.jsonl";

  private static final int APPRENTICES_AT_A_TIME = 10;
  private static final int RECORDS_AT_A_TIME = 100;

  private final Desk desk;
  private final HoursStore hours;
  private final EquivalenceStore grants;
  private final TaskBook tasks;
  private final LedgerStore ledger;
  private final HeadStore heads;
  private final BiFunction<Printout, Instant, byte[]> paper;

  /**
   * A maker of bundles.
   *
   * @param paper turns a report into a PDF that is said to be made at an instant
   */
  public BundleMaker(
      Desk desk, HoursStore hours, EquivalenceStore grants, TaskBook tasks, LedgerStore ledger, HeadStore heads,
      BiFunction<Printout, Instant, byte[]> paper) {
    this.desk = desk;
    this.hours = hours;
    this.grants = grants;
    this.tasks = tasks;
    this.ledger = ledger;
    this.heads = heads;
    this.paper = paper;
  }

  /** A file name for a bundle, without its folder. */
  public static String fileName(Optional<Cohort> cohort, AsOf asOf) {
    return "bundle-" + plain(cohort.map(Cohort::title).orElse("programme")) + "-" + asOf.day() + ".zip";
  }

  private static String plain(String title) {
    String plain = title.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", "-").replaceAll("^-|-$", "");
    return plain.isEmpty() ? "cohort" : plain;
  }

  /**
   * Writes a bundle.
   *
   * @param cohort whose; the whole programme if empty
   * @param asOf the moment that tables and reports speak of; the log is always whole
   * @throws IOException if it cannot be written
   */
  public void write(Optional<Cohort> cohort, AsOf asOf, OutputStream out, Headway headway) throws IOException {
    Path folder = Files.createTempDirectory("ferrule-bundle");
    try (BundleZip zip = new BundleZip(out, desk.clock().instant())) {
      new Making(cohort, asOf, zip, folder, headway).write();
    } finally {
      remove(folder);
    }
  }

  private static void remove(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }

  /** One bundle in the making. */
  private final class Making {

    private final Optional<Cohort> one;
    private final AsOf asOf;
    private final BundleZip zip;
    private final Path folder;
    private final Headway headway;
    private final List<Cohort> cohorts;
    private final Map<String, Programme> programmes = new LinkedHashMap<>();
    private final Set<UUID> seen = new HashSet<>();

    Making(Optional<Cohort> one, AsOf asOf, BundleZip zip, Path folder, Headway headway) {
      this.one = one;
      this.asOf = asOf;
      this.zip = zip;
      this.folder = folder;
      this.headway = headway;
      this.cohorts = one.map(List::of).orElseGet(() -> desk.people().cohorts());
    }

    void write() throws IOException {
      writeTables();
      SignedHead head = one.isPresent() ? writeProofs() : writeLog();
      Table dictionary = DataDictionary.of(BundleTables.ALL);
      for (TableFormat format : TableFormat.values()) {
        zip.add("data/" + dictionary.fileName(format), out -> dictionary.write(format, out));
      }
      zip.add("dictionary.pdf", out -> out.write(paper.apply(
          new Printout("Data dictionary", "What each column of the files in the folder data means.",
              List.of(Printout.Section.of("", dictionary))), desk.clock().instant())));
      zip.add("tree-head.json", "{\"key\":\"" + heads.key().publicKey() + "\",\"signature\":\"" + head.signature()
          + "\",\"said\":" + SignedHead.message(head.head(), head.at()) + "}\n");
      zip.add("README.txt", BundleReadme.text(title(), asOf, one.isPresent(), head, heads.key()));
      FileSeal seal = heads.seal(head.head(), zip.hashes());
      zip.add(SEAL, seal.text());
    }

    private String title() {
      return one.map(Cohort::title).orElse("the whole programme");
    }

    // --- tables and reports ---

    private void writeTables() throws IOException {
      List<Path> files = new ArrayList<>();
      List<Overview> overviews = new ArrayList<>();
      try (TableFiles<BundleTables.CohortLine> cohortFiles = new TableFiles<>(BundleTables.COHORTS, folder);
          TableFiles<BundleTables.MemberLine> members = new TableFiles<>(BundleTables.APPRENTICES, folder);
          TableFiles<Standing> standings = new TableFiles<>(CohortTables.COMPETENCIES, folder);
          TableFiles<BundleTables.Evidence> evidence = new TableFiles<>(BundleTables.EVIDENCE, folder);
          TableFiles<SchoolTables.HoursLine> hourFiles = new TableFiles<>(SchoolTables.HOURS, folder);
          TableFiles<BundleTables.GrantLine> grantFiles = new TableFiles<>(BundleTables.GRANTS, folder)) {
        for (Cohort cohort : cohorts) {
          CohortReport report = judge(cohort);
          programmes.put(report.programme().edition(), report.programme());
          cohortFiles.row(new BundleTables.CohortLine(cohort, report.programme().edition(), report.rows().size()));
          headway.begin("Writing the tables of " + cohort.title(), report.rows().size());
          for (CohortReport.Row row : report.rows()) {
            members.row(new BundleTables.MemberLine(
                cohort, row.member(), row.progress().complete(), row.progress().verdicts().size()));
            CohortReport alone = new CohortReport(cohort, asOf, report.programme(), List.of(row));
            for (Standing standing : CohortTables.standings(alone).toList()) {
              standings.row(standing);
              for (BundleTables.Evidence speaks : BundleTables.Evidence.of(standing, tasks)) {
                evidence.row(speaks);
              }
            }
            writeBeside(cohort, row.member(), hourFiles, grantFiles);
            headway.advance(1);
          }
          overviews.add(Overview.of(report));
          print(cohort, report);
        }
        for (TableFiles<?> written : List.of(cohortFiles, members, standings, evidence, hourFiles, grantFiles)) {
          files.addAll(written.files());
        }
      }
      try (TableFiles<BundleTables.Taught> taught = new TableFiles<>(BundleTables.PROGRAMME, folder)) {
        for (Programme programme : programmes.values()) {
          for (var area : programme.areas()) {
            for (var competency : area.competencies()) {
              taught.row(new BundleTables.Taught(programme, area, competency));
            }
          }
        }
        files.addAll(taught.files());
      }
      if (one.isEmpty()) {
        zip.add("report.pdf", out -> out.write(paper.apply(Overview.printout(overviews, asOf), desk.clock().instant())));
      }
      add(files);
    }

    private void add(List<Path> files) throws IOException {
      for (Path file : files) {
        headway.begin("Packing " + file.getFileName(), Files.size(file));
        zip.add("data/" + file.getFileName(), file, headway);
        Files.delete(file);
      }
    }

    private CohortReport judge(Cohort cohort) {
      List<Member> members = desk.apprentices(cohort, asOf, true);
      Programme programme = desk.competencies().programmeOfCohort(cohort.id(), asOf.instant());
      headway.begin("Judging " + cohort.title(), members.size());
      List<CohortReport.Row> rows = new ArrayList<>();
      for (int from = 0; from < members.size(); from += APPRENTICES_AT_A_TIME) {
        List<Member> some = members.subList(from, Math.min(members.size(), from + APPRENTICES_AT_A_TIME));
        rows.addAll(CohortReport.of(cohort, some, desk.competencies(), asOf, programme).rows());
        headway.advance(some.size());
      }
      return new CohortReport(cohort, asOf, programme, rows);
    }

    private void print(Cohort cohort, CohortReport report) throws IOException {
      String name = one.isPresent() ? "report" : "reports/" + plain(cohort.title()) + "-" + short8(cohort);
      List<Printout> parts = CohortTables.parts(report);
      headway.begin("Printing the report of " + cohort.title(), parts.size());
      for (int part = 1; part <= parts.size(); part++) {
        byte[] pdf = paper.apply(parts.get(part - 1), desk.clock().instant());
        zip.add(name + (parts.size() == 1 ? "" : "-" + part) + ".pdf", out -> out.write(pdf));
        headway.advance(1);
      }
    }

    // two cohorts may be called alike
    private String short8(Cohort cohort) {
      return cohort.id().toString().substring(0, 8);
    }

    private void writeBeside(
        Cohort cohort, Member member, TableFiles<SchoolTables.HoursLine> hourFiles,
        TableFiles<BundleTables.GrantLine> grantFiles) throws IOException {
      UUID who = member.person().id();
      if (!seen.add(who)) {
        return; // was in an earlier cohort too, and stands there
      }
      for (BenchHours entry : BenchHours.counting(hours.about(List.of(who), asOf.instant()))) {
        hourFiles.row(new SchoolTables.HoursLine(cohort, member.person(), entry));
      }
      for (var grant : grants.of(List.of(who), asOf.instant())) {
        grantFiles.row(new BundleTables.GrantLine(cohort, member, grant));
      }
    }

    // --- the log ---

    private SignedHead writeLog() throws IOException {
      heads.current();
      headway.begin("Writing the log of signed records", ledger.head().size());
      TreeHead[] whole = new TreeHead[1];
      try (TableFiles<LogEntry> table = new TableFiles<>(BundleTables.RECORDS, folder)) {
        zip.add(LOG, out -> {
          Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
          LogFile.write(heads.witnesses(), text);
          whole[0] = ledger.read(entry -> write(entry, text, table))
              .orElseThrow(() -> new IOException("the log's own head is gone or cannot be read; run verify"));
          LogFile.write(whole[0], text);
          text.flush();
        });
        table.close();
        add(table.files());
      }
      return heads.find(whole[0].size()).filter(h -> h.head().equals(whole[0])).orElseGet(heads::current);
    }

    private void write(LogEntry entry, Writer text, TableFiles<LogEntry> table) {
      try {
        LogFile.write(entry, text);
        table.row(entry);
        if (entry.number() % RECORDS_AT_A_TIME == 0) {
          headway.advance(RECORDS_AT_A_TIME);
        }
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    private SignedHead writeProofs() throws IOException {
      SignedHead head = heads.current();
      Proofs proofs = new Proofs(ledger, heads);
      headway.begin("Proving the records of " + title(), seen.size());
      try (TableFiles<LogEntry> table = new TableFiles<>(BundleTables.RECORDS, folder)) {
        zip.add(PROOFS, out -> {
          Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
          ProofFile.write(heads.key(), head, text);
          for (UUID who : seen) {
            List<LogEntry> entries = ledger.about(who).stream().filter(e -> e.number() <= head.head().size()).toList();
            for (ProvenEntry proven : proofs.prove(entries, head)) {
              ProofFile.write(proven, text);
            }
            for (LogEntry entry : entries) {
              table.row(entry);
            }
            headway.advance(1);
          }
          text.flush();
        });
        table.close();
        add(table.files());
      }
      return head;
    }
  }

  /** A cohort in one line of the report on the whole programme. */
  private record Overview(Cohort cohort, int apprentices, long complete, long of) {

    private static final TableDefinition<Overview> LINES =
        TableDefinition.<Overview>of("overview", "Cohorts", "A cohort.")
            .with("cohort", Kind.TEXT, "Its title.", o -> o.cohort().title())
            .with("starts on", Kind.DATE, "Its first day.", o -> o.cohort().startsOn())
            .with("ends on", Kind.DATE, "Its last day.", o -> o.cohort().endsOn())
            .with("apprentices", Kind.COUNT, "How many it has had.", Overview::apprentices)
            .withIfAny("complete", Kind.SHARE, "The share of their competencies that is complete.",
                o -> o.of() == 0 ? Optional.empty() : Optional.of((double) o.complete() / o.of()));

    static Overview of(CohortReport report) {
      return new Overview(
          report.cohort(), report.rows().size(), report.rows().stream().mapToLong(r -> r.progress().complete()).sum(),
          report.rows().stream().mapToLong(r -> r.progress().verdicts().size()).sum());
    }

    static Printout printout(List<Overview> lines, AsOf asOf) {
      return new Printout(
          "The whole programme", "At the end of " + asOf.inWords() + ". The folder reports has a report on each cohort.",
          List.of(Printout.Section.of("", LINES.of(lines))));
    }
  }
}

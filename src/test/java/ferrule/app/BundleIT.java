package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.dhatim.fastexcel.reader.CellType;
import org.dhatim.fastexcel.reader.ReadableWorkbook;
import org.dhatim.fastexcel.reader.ReadingOptions;
import org.dhatim.fastexcel.reader.Row;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class BundleIT {

  private static final String LAST_EVENING = DemoTerms.before(Clock.systemUTC()).lastEvening().toString();

  @TempDir static Path folder;

  private static Map<String, byte[]> programme;
  private static Map<String, byte[]> cohort;

  /** What a command printed, and its exit code. */
  private record Run(int code, String out) {}

  private static Run run(String... arguments) {
    StringWriter out = new StringWriter();
    CommandLine line = Ferrule.commandLine();
    line.setOut(new PrintWriter(out)).setErr(new PrintWriter(out));
    return new Run(line.execute(arguments), out.toString());
  }

  private static Map<String, byte[]> bundle(String name, String... more) throws IOException {
    List<String> arguments = new ArrayList<>(List.of(
        "bundle", "--demo", "--data", folder.toString(), "--as-of", LAST_EVENING, "--out",
        folder.resolve(name).toString()));
    arguments.addAll(List.of(more));
    Run run = run(arguments.toArray(String[]::new));
    assertEquals(0, run.code(), run.out());
    return unpack(Files.readAllBytes(folder.resolve(name)));
  }

  private static Map<String, byte[]> unpack(byte[] file) throws IOException {
    Map<String, byte[]> files = new LinkedHashMap<>();
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(file))) {
      for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
        files.put(entry.getName(), zip.readAllBytes());
      }
    }
    return files;
  }

  private static Run verify(Map<String, byte[]> files, String... more) throws IOException {
    Path file = folder.resolve("altered.zip");
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(file))) {
      for (Map.Entry<String, byte[]> entry : files.entrySet()) {
        zip.putNextEntry(new ZipEntry(entry.getKey()));
        zip.write(entry.getValue());
      }
    }
    List<String> arguments = new ArrayList<>(List.of("verify", "--bundle", file.toString()));
    arguments.addAll(List.of(more));
    return run(arguments.toArray(String[]::new));
  }

  private static String text(Map<String, byte[]> files, String name) {
    return new String(files.get(name), StandardCharsets.UTF_8);
  }

  @BeforeAll
  static void make() throws IOException {
    Database database = Database.open(DatabaseUrl.h2File(folder, "demo"));
    try (Installation demo =
        new Installation(Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC)) {
      DemoProgramme.fill(demo);
    }
    programme = bundle("programme.zip");
    cohort = bundle("second.zip", "--cohort", "Second year");
  }

  // --- what is in it ---

  @Test
  void aBundleIsAcceptedByVerifyAndSoIsTheLogInIt() throws IOException {
    Run whole = run("verify", "--bundle", folder.resolve("programme.zip").toString());
    assertEquals(0, whole.code(), whole.out());
    assertTrue(whole.out().contains("none altered, added or taken away"), whole.out());
    Run one = run("verify", "--bundle", folder.resolve("second.zip").toString());
    assertEquals(0, one.code(), one.out());

    Path log = Files.write(folder.resolve("records.jsonl"), programme.get("records.jsonl"));
    assertEquals(0, run("verify", "--file", log.toString()).code());
    Path proofs = Files.write(folder.resolve("proofs.jsonl"), cohort.get("proofs.jsonl"));
    assertEquals(0, run("verify", "--proof", proofs.toString()).code());
    assertFalse(cohort.containsKey("records.jsonl"), "a cohort's bundle holds no record of anybody else");
    assertFalse(text(cohort, "proofs.jsonl").contains("Wren Aldous"), "who is in the first year");
    assertTrue(text(programme, "records.jsonl").contains("Wren Aldous"));
  }

  @Test
  void whateverIsAlteredAddedOrTakenAwayIsNamed() throws IOException {
    for (Map<String, byte[]> bundle : List.of(programme, cohort)) {
      assertEquals(0, verify(bundle).code(), "packing it anew changes nothing");
      for (String name : bundle.keySet()) {
        Map<String, byte[]> altered = new LinkedHashMap<>(bundle);
        byte[] bytes = altered.get(name).clone();
        bytes[bytes.length / 2] ^= 1;
        altered.put(name, bytes);
        Run run = verify(altered);
        assertEquals(1, run.code(), name + ": " + run.out());
        assertTrue(run.out().contains(name.equals("seal.json") ? "seal" : name), name + ": " + run.out());
        altered.remove(name);
        assertEquals(1, verify(altered).code(), name + " was taken away");
      }
      Map<String, byte[]> more = new LinkedHashMap<>(bundle);
      more.put("data/grades.csv", new byte[1]);
      assertTrue(verify(more).out().contains("data/grades.csv has been added"));
    }
  }

  @Test
  void aBundleSignedWithAnotherKeyIsNotTheSchools() throws IOException {
    Matcher key = Pattern.compile("\"key\" : \"([^\"]+)\"").matcher(text(programme, "seal.json"));
    assertTrue(key.find());
    assertEquals(0, verify(programme, "--key", key.group(1)).code());
    Run other = verify(programme, "--key", HeadSigner.passing().key().publicKey());
    assertEquals(1, other.code());
    assertTrue(other.out().contains("not signed with the key that you trust"), other.out());
  }

  // --- the data ---

  private static List<CSVRecord> csv(Map<String, byte[]> files, String table) throws IOException {
    String text = text(files, "data/" + table + ".csv").substring(1);
    return CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get().parse(new StringReader(text))
        .getRecords();
  }

  @Test
  void theDictionaryDescribesEveryColumnOfEveryFile() throws IOException {
    for (Map<String, byte[]> bundle : List.of(programme, cohort)) {
      Map<String, List<CSVRecord>> described = csv(bundle, "dictionary").stream()
          .collect(Collectors.groupingBy(r -> r.get("table")));
      Set<String> tables = bundle.keySet().stream().filter(n -> n.startsWith("data/"))
          .map(n -> n.substring(5, n.lastIndexOf('.'))).collect(Collectors.toCollection(TreeSet::new));
      assertEquals(tables, new TreeSet<>(described.keySet()));
      for (String table : tables) {
        List<CSVRecord> columns = described.get(table);
        String text = text(bundle, "data/" + table + ".csv").substring(1);
        List<CSVRecord> lines = CSVFormat.RFC4180.parse(new StringReader(text)).getRecords();
        assertEquals(columns.stream().map(c -> c.get("column")).toList(), lines.get(0).toList(), table);
        for (CSVRecord line : lines.subList(1, lines.size())) {
          for (int c = 0; c < columns.size(); c++) {
            check(table, columns.get(c), line.get(c));
          }
        }
        checkSheet(bundle.get("data/" + table + ".xlsx"), columns, lines.size());
      }
    }
  }

  private static void check(String table, CSVRecord column, String value) {
    String where = table + ", " + column.get("column") + ": " + value;
    String kind = column.get("kind");
    if (value.isEmpty()) {
      assertTrue(column.get("always").equals("false") || kind.equals("text"), where);
      return;
    }
    switch (kind) {
      case "text" -> assertFalse("=+-@".indexOf(value.charAt(0)) >= 0, where);
      case "yes or no" -> assertTrue(value.equals("true") || value.equals("false"), where);
      case "count" -> Long.parseLong(value);
      case "share" -> assertTrue(Double.parseDouble(value) >= 0 && Double.parseDouble(value) <= 1, where);
      case "number" -> Double.parseDouble(value);
      case "date" -> LocalDate.parse(value);
      case "instant" -> Instant.parse(value);
      case "duration" -> Duration.parse(value);
      default -> throw new AssertionError("no such kind: " + where);
    }
  }

  private static void checkSheet(byte[] file, List<CSVRecord> columns, int lines) throws IOException {
    try (ReadableWorkbook book = new ReadableWorkbook(new ByteArrayInputStream(file), new ReadingOptions(true, true))) {
      List<Row> rows = book.getFirstSheet().read();
      assertEquals(lines, rows.size());
      for (Row row : rows.subList(1, rows.size())) {
        for (int c = 0; c < columns.size(); c++) {
          CellType type = row.getOptionalCell(c).map(cell -> cell.getType()).orElse(CellType.EMPTY);
          CellType expected = switch (columns.get(c).get("kind")) {
            case "text" -> CellType.STRING;
            case "yes or no" -> CellType.BOOLEAN;
            default -> CellType.NUMBER;
          };
          assertTrue(type == expected || type == CellType.EMPTY && columns.get(c).get("always").equals("false"),
              columns.get(c) + ": " + type);
        }
      }
    }
  }

  @Test
  void theEvidenceIsInTheLogAndTheNumbersAgree() throws IOException {
    Map<String, CSVRecord> records =
        csv(programme, "records").stream().collect(Collectors.toMap(r -> r.get("record"), r -> r));
    List<CSVRecord> signOffs =
        csv(programme, "evidence").stream().filter(e -> e.get("kind").equals("sign-off")).toList();
    assertTrue(signOffs.size() > 50, signOffs.size() + " sign-offs");
    for (CSVRecord evidence : signOffs) {
      CSVRecord record = records.get(evidence.get("record"));
      assertEquals(evidence.get("record id"), record.get("record id"));
      assertEquals(evidence.get("apprentice id"), record.get("apprentice id"));
    }
    List<CSVRecord> standings = csv(programme, "competencies");
    assertEquals(
        standings.stream().mapToInt(s -> Integer.parseInt(s.get("sign-offs that count"))).sum(), signOffs.size());
    for (CSVRecord apprentice : csv(programme, "apprentices")) {
      long complete = standings.stream()
          .filter(s -> s.get("apprentice id").equals(apprentice.get("apprentice id")))
          .filter(s -> s.get("state").equals("complete")).count();
      assertEquals(apprentice.get("complete"), Long.toString(complete));
    }
    assertEquals(records.size(), Files.readString(Files.write(folder.resolve("r"), programme.get("records.jsonl")))
        .lines().filter(l -> l.startsWith("{\"number\"")).count());
  }

  @Test
  void theReportsCanBeReadOnPaper() throws IOException {
    try (PDDocument pdf = Loader.loadPDF(cohort.get("report.pdf"))) {
      String words = new PDFTextStripper().getText(pdf);
      assertTrue(words.contains("Second year"), words);
      assertTrue(words.contains("Orla Benedek"), words);
    }
    assertEquals(2, programme.keySet().stream().filter(n -> n.startsWith("reports/")).count());
    assertTrue(text(cohort, "README.txt").contains("verify --bundle"));
  }

  // --- made by a server while nobody waits ---

  @Test
  void itIsAskedForAtOneNodeMadeByAnotherAndFetchedFromTheFirst() throws Exception {
    Database database = Database.open(DatabaseUrl.h2File(folder, "served"));
    Books books = Books.read(Curriculum.bundled());
    HeadSigner signer = HeadSigner.passing();
    WebConfig config = new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS);
    try (Installation first = new Installation(books, database, signer, Clock.systemUTC(), ZoneOffset.UTC)) {
      DemoProgramme.fill(first);
      Installation second = new Installation(books, database, signer, Clock.systemUTC(), ZoneOffset.UTC);
      try (WebServer server = first.serve(config); WebServer other = second.serve(config)) {
        Browser magnus = new Browser(server.port());
        magnus.signIn("magnus", "river ledger", "/bundles");
        String csrf = magnus.get("/bundles").hidden("csrf");
        assertEquals(303, magnus.post("/bundles", Map.of("csrf", csrf, "cohort", "", "as-of", LAST_EVENING)).status());
        assertEquals(303, magnus.post("/bundles", Map.of("csrf", csrf, "cohort", "", "as-of", LAST_EVENING)).status());
        assertEquals(
            409, magnus.post("/bundles", Map.of("csrf", csrf, "cohort", "", "as-of", "")).status(), "two are open");
        String waiting = magnus.get("/bundles/list").body();
        assertTrue(waiting.contains("waits for its turn"), waiting);
        Matcher cancel = Pattern.compile("/bundles/([0-9a-f-]+)/cancel").matcher(waiting);
        assertTrue(cancel.find());
        assertEquals(303, magnus.post(cancel.group(), Map.of("csrf", csrf)).status());

        AtomicInteger asked = new AtomicInteger();
        assertTrue(first.longWorker().round(rest -> asked.incrementAndGet() > 5), "this node is told to stop in the middle");
        assertTrue(magnus.get("/bundles/list").body().contains("waits for its turn"), "the work was put back");
        assertTrue(second.longWorker().round(rest -> false), "the other node does it");
        assertFalse(first.longWorker().round(rest -> false), "there is nothing left to do");
        String made = magnus.get("/bundles/list").body();
        Matcher fetch = Pattern.compile("/bundles/[0-9a-f-]+/file").matcher(made);
        assertTrue(fetch.find(), made);
        assertTrue(made.contains("cancelled"), made);
        Path file = folder.resolve("fetched.zip");
        Files.write(file, magnus.getBytes(fetch.group()));
        Run run = run("verify", "--bundle", file.toString(), "--key", signer.key().publicKey());
        assertEquals(0, run.code(), run.out());

        Browser isolde = new Browser(server.port());
        isolde.signIn("isolde", "brass lantern", "/");
        assertEquals(403, isolde.get("/bundles").status());
        assertEquals(403, isolde.get(fetch.group()).status());
      }
    }
  }
}

package ferrule.app;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.mapping;
import static java.util.stream.Collectors.toList;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class VerifyAndExportTest {

  private static final String LAST_EVENING = DemoTerms.before(Clock.systemUTC()).lastEvening().toString();

  @TempDir static Path folder;

  // its first two lines are the key and the signed head; record 1 is in the third
  private static String exported;

  /** What a command printed, and its exit code. */
  private record Run(int code, String out) {}

  private static Run run(String... arguments) {
    StringWriter out = new StringWriter();
    CommandLine line = Ferrule.commandLine();
    line.setOut(new PrintWriter(out)).setErr(new PrintWriter(out));
    int code = line.execute(arguments);
    return new Run(code, out.toString());
  }

  private static Run verify(String... more) {
    List<String> arguments = new ArrayList<>(List.of("verify", "--demo", "--data", folder.toString()));
    arguments.addAll(List.of(more));
    return run(arguments.toArray(String[]::new));
  }

  private static Run verifyFile(String text, String... more) throws IOException {
    Path file = Files.writeString(folder.resolve("altered.jsonl"), text);
    List<String> arguments = new ArrayList<>(List.of("verify", "--file", file.toString()));
    arguments.addAll(List.of(more));
    return run(arguments.toArray(String[]::new));
  }

  @BeforeAll
  static void export() throws IOException {
    Database database = Database.open(DatabaseUrl.h2File(folder, "demo"));
    try (Installation demo =
        new Installation(Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC)) {
      DemoProgramme.fill(demo);
    }
    Run run = run("export", "--demo", "--data", folder.toString(), "--out", folder.resolve("out").toString(),
        "--as-of", LAST_EVENING);
    assertEquals(0, run.code(), run.out());
    exported = Files.readString(folder.resolve("out/records.jsonl"));
  }

  @Test
  void theDatabaseAndItsExportAreSound() throws IOException {
    Run database = verify();
    assertEquals(0, database.code(), database.out());
    assertTrue(database.out().contains("none altered, removed or inserted"), database.out());
    Run file = verifyFile(exported);
    assertEquals(0, file.code(), file.out());
    assertEquals(database.out(), file.out());
  }

  @Test
  void aSignedHeadThatIsAlteredOrOfAnotherKeyDoesNotCount() throws IOException {
    String key = exported.lines().findFirst().orElseThrow().replaceFirst(".*\"key\":\"([^\"]+)\".*", "$1");
    assertEquals(0, verifyFile(exported, "--key", key).code());
    assertEquals(0, verify("--key", key).code());
    assertEquals(2, verify("--key", HeadSigner.passing().key().publicKey()).code(), "no head of that key");
    assertEquals(2, verify("--key", "abc").code());
    Run run = verifyFile(exported.replaceFirst("\"at\":\"20", "\"at\":\"19"));
    assertEquals(1, run.code());
    assertTrue(run.out().contains("its signature does not fit"), run.out());
  }

  @Test
  void anAlteredLineIsNamed() throws IOException {
    List<String> lines = new ArrayList<>(exported.lines().toList());
    String third = lines.get(4);
    lines.set(4, third.replaceFirst("\"standing\":\"[a-z ]+\"", "\"standing\":\"exemplary\""));
    assertFalse(third.equals(lines.get(4)));
    Run run = verifyFile(String.join("\n", lines));
    assertEquals(1, run.code());
    assertTrue(run.out().startsWith("TOUCHED at record 3:"), run.out());

    lines.set(4, third.replaceFirst("\"record\":\\{", "\"record\":{\"kind\":\"withdrawal\","));
    assertTrue(verifyFile(String.join("\n", lines)).out().startsWith("TOUCHED at record 3:"));
  }

  @Test
  void aRemovedLineAndACutOffEndAreNamed() throws IOException {
    List<String> lines = new ArrayList<>(exported.lines().toList());
    String head = lines.get(lines.size() - 1);
    lines.remove(8);
    assertTrue(verifyFile(String.join("\n", lines)).out().startsWith("TOUCHED at record 7: record 7 has been removed"));
    String cut = String.join("\n", exported.lines().limit(7).toList());
    assertEquals(1, verifyFile(cut).code(), "a file without its head says nothing about its end");
    assertTrue(verifyFile(cut + "\n" + head).out().startsWith("TOUCHED at record 6:"));
    assertEquals(1, verifyFile(exported + head + "\n").code());
  }

  @Test
  void aNotedHeadIsComparedWith() throws IOException {
    String fifth = exported.lines().toList().get(6).replaceFirst(".*\"root\":\"([0-9a-f]+)\".*", "$1");
    assertEquals(0, verify("--size", "5", "--head", fifth).code());
    Run other = verify("--size", "6", "--head", fifth);
    assertEquals(1, other.code());
    assertTrue(other.out().contains("the first 6 records are not those of the noted head"), other.out());
    assertEquals(2, verify("--size", "6").code());
    assertEquals(2, verify("--size", "6", "--head", "abc").code());
  }

  @Test
  void aDatabaseAlteredBehindItsBackIsNamed() throws IOException {
    for (String extension : List.of("demo.mv.db")) {
      Files.copy(folder.resolve(extension), Files.createDirectories(folder.resolve("copy")).resolve(extension));
    }
    try (Database copy = Database.open(DatabaseUrl.h2File(folder.resolve("copy"), "demo"))) {
      copy.dsl().execute("update record_log set body = replace(body, 'not yet', 'sound') where number = "
          + "(select min(number) from record_log where body like '%\"not yet\"%')");
    }
    Run run = run("verify", "--demo", "--data", folder.resolve("copy").toString());
    assertEquals(1, run.code());
    assertTrue(run.out().contains("has been altered"), run.out());
  }

  @Test
  void aWrongFolderIsNotAnEmptyRecord() {
    Run run = run("verify", "--data", folder.resolve("nowhere").toString());
    assertEquals(2, run.code());
    assertTrue(run.out().contains("there is no database at"), run.out());
    assertFalse(Files.exists(folder.resolve("nowhere")));
  }

  @Test
  void theReportHasALineForEachMemberAndCompetency() throws IOException {
    Path file = folder.resolve("out/competencies-second-year-" + LAST_EVENING + ".csv");
    String text = Files.readString(file, StandardCharsets.UTF_8);
    assertEquals('\uFEFF', text.charAt(0), "a spreadsheet reads UTF-8 by the mark in front");
    List<CSVRecord> lines;
    try (StringReader reader = new StringReader(text.substring(1))) {
      lines = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get().parse(reader).getRecords();
    }
    // the second year is on an older edition of the programme, whose competencies are its own
    Map<String, List<String>> competencies =
        lines.stream().collect(groupingBy(l -> l.get("apprentice"), mapping(l -> l.get("competency"), toList())));
    assertEquals(14, competencies.size());
    assertEquals(1, competencies.values().stream().distinct().count(), "everybody has a line for the same competencies");
    assertTrue(lines.size() >= 14 * 6, lines.size() + " lines");
    for (CSVRecord line : lines) {
      boolean complete = line.get("state").equals("complete");
      assertEquals(complete, line.get("what is missing").isEmpty(), line.toString());
    }
  }

  @Test
  void eachCommandExplainsItself() {
    assertTrue(run("verify", "--help").out().contains("What it does not prove"));
    assertTrue(run("export", "--help").out().contains("records.jsonl"));
  }
}

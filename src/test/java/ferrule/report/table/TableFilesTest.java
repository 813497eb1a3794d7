package ferrule.report.table;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringReader;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.zip.ZipFile;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.dhatim.fastexcel.reader.Cell;
import org.dhatim.fastexcel.reader.CellType;
import org.dhatim.fastexcel.reader.ReadableWorkbook;
import org.dhatim.fastexcel.reader.ReadingOptions;
import org.dhatim.fastexcel.reader.Row;
import org.dhatim.fastexcel.reader.Sheet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TableFilesTest {

  @TempDir static Path folder;

  private record Line(
      String name, int works, double share, double gap, LocalDate begun, Instant signed, Duration waited,
      Optional<LocalDate> left, boolean behind) {}

  private static final TableDefinition<Line> LINES =
      TableDefinition.<Line>of("lines", "Lines", "One line.")
          .inFiles("id", Kind.TEXT, "Names the line.", Line::name)
          .with("name", Kind.TEXT, "The name.", Line::name)
          .with("works", Kind.COUNT, "How many works.", Line::works)
          .with("done", Kind.SHARE, "The share that is done.", Line::share)
          .with("gap", Kind.number("mm"), "The gap.", Line::gap)
          .with("begun", Kind.DATE, "When it was begun.", Line::begun)
          .with("signed", Kind.INSTANT, "When it was signed.", Line::signed)
          .with("waited", Kind.DURATION, "How long it waited.", Line::waited)
          .withIfAny("left", Kind.DATE, "When they left.", Line::left)
          .with("behind", Kind.FLAG, "Whether it is behind.", Line::behind);

  private static final Line WREN =
      new Line(
          "=1+1\u0001 \"Wren\", twice", 1234, 0.125, -0.05, LocalDate.of(2026, 3, 1),
          Instant.parse("2026-11-25T23:30:05Z"), Duration.ofHours(30).plusMinutes(5), Optional.empty(), true);

  private static byte[] file(TableFormat format, Line... lines) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    LINES.of(List.of(lines)).write(format, out);
    return out.toByteArray();
  }

  private static ReadableWorkbook open(byte[] file) throws IOException {
    return new ReadableWorkbook(new ByteArrayInputStream(file), new ReadingOptions(true, true));
  }

  @Test
  void aSpreadsheetHoldsNumbersDatesAndTextsAsSuch() throws IOException {
    try (ReadableWorkbook book = open(file(TableFormat.XLSX, WREN))) {
      List<Row> rows = book.getFirstSheet().read();
      assertEquals(
          List.of("id", "name", "works", "done", "gap (mm)", "begun", "signed (UTC)", "waited", "left", "behind"),
          rows.get(0).stream().map(Cell::getText).toList());
      Row row = rows.get(1);
      assertEquals(CellType.STRING, row.getCell(1).getType(), "a text that begins with = is no formula");
      assertEquals("=1+1 \"Wren\", twice", row.getCellText(1), "what XML cannot hold is left out");
      for (int numeric = 2; numeric <= 7; numeric++) {
        assertEquals(CellType.NUMBER, row.getCell(numeric).getType(), "column " + numeric);
      }
      assertEquals(new BigDecimal("1234"), row.getCellAsNumber(2).orElseThrow());
      assertEquals(0.125, row.getCellAsNumber(3).orElseThrow().doubleValue());
      assertEquals(-0.05, row.getCellAsNumber(4).orElseThrow().doubleValue());
      assertEquals("yyyy-mm-dd", row.getCell(5).getDataFormatString());
      assertEquals(LocalDateTime.of(2026, 3, 1, 0, 0), row.getCellAsDate(5).orElseThrow());
      assertEquals(LocalDateTime.of(2026, 11, 25, 23, 30, 5), row.getCellAsDate(6).orElseThrow());
      assertEquals("[h]:mm:ss", row.getCell(7).getDataFormatString());
      assertEquals(30 + 5 / 60.0, row.getCellAsNumber(7).orElseThrow().doubleValue() * 24, 1e-9);
      assertTrue(row.getOptionalCell(8).filter(c -> c.getType() != CellType.EMPTY).isEmpty());
      assertEquals(CellType.BOOLEAN, row.getCell(9).getType());
    }
  }

  @Test
  void theHeadingsStayInPlaceAndCanBeFilteredBy() throws IOException {
    Path file = Files.write(folder.resolve("lines.xlsx"), file(TableFormat.XLSX, WREN));
    String sheet;
    try (ZipFile zip = new ZipFile(file.toFile())) {
      byte[] bytes = zip.getInputStream(zip.getEntry("xl/worksheets/sheet1.xml")).readAllBytes();
      sheet = new String(bytes, StandardCharsets.UTF_8);
    }
    assertTrue(sheet.contains("ySplit=\"1\""), sheet);
    assertTrue(sheet.contains("state=\"frozen\""), sheet);
    assertTrue(sheet.contains("<autoFilter ref=\"A1:J2\""), sheet);
  }

  @Test
  void whatIsMoreThanASheetGoesOnInASecond() throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (TableWriter writer = new XlsxWriter(LINES, out, 4)) {
      LINES.write(IntStream.rangeClosed(1, 7).mapToObj(n -> numbered(n)), writer);
    }
    try (ReadableWorkbook book = open(out.toByteArray())) {
      List<Sheet> sheets = book.getSheets().toList();
      assertEquals(List.of("lines", "lines 2", "lines 3"), sheets.stream().map(Sheet::getName).toList());
      assertEquals(List.of("name", "n4", "n5", "n6"), sheets.get(1).read().stream().map(r -> r.getCellText(1)).toList());
      assertEquals(2, sheets.get(2).read().size());
    }
  }

  private static Line numbered(int n) {
    return new Line(
        "n" + n, n, 1, n, WREN.begun(), WREN.signed(), Duration.ZERO, Optional.of(WREN.begun().plusDays(n)), false);
  }

  @Test
  void theSameValuesStandInTheTextFiles() throws IOException {
    String csv = new String(file(TableFormat.CSV, WREN), StandardCharsets.UTF_8);
    assertEquals('\uFEFF', csv.charAt(0), "so that a spreadsheet reads it as UTF-8");
    CSVRecord line = CSVFormat.RFC4180.parse(new StringReader(csv)).getRecords().get(1);
    assertEquals("'=1+1\u0001 \"Wren\", twice", line.get(1), "a spreadsheet would run it without the apostrophe");
    assertEquals(
        List.of("1234", "0.125", "-0.05", "2026-03-01", "2026-11-25T23:30:05Z", "PT30H5M", "", "true"),
        line.toList().subList(2, 10));

    JsonNode json = new ObjectMapper().readTree(file(TableFormat.JSON, WREN, numbered(2)));
    assertEquals(2, json.size());
    assertEquals(WREN.name(), json.get(0).path("name").asText());
    assertTrue(json.get(0).path("works").isIntegralNumber());
    assertEquals(-0.05, json.get(0).path("gap (mm)").asDouble());
    assertTrue(json.get(0).path("left").isNull());
    assertTrue(json.get(0).path("behind").isBoolean());
    assertEquals("2026-03-03", json.get(1).path("left").asText());
  }

  // the starts that OWASP ASVS 5.0, 1.2.10 lists: = + - @ tab and null; line breaks from memory
  @ParameterizedTest
  @ValueSource(strings = {"=1+1", "+Wren", "-Wren", "@sum", "\tWren", "\0Wren", "\rWren", "\nWren"})
  void noNameIsTakenForAFormula(String name) {
    assertEquals("'" + name, CsvWriter.safe(name));
    assertEquals("W" + name, CsvWriter.safe("W" + name));
  }

  @Test
  void anEmptyTableIsAFileWithHeadings() throws IOException {
    assertEquals(1, CSVFormat.RFC4180.parse(
        new StringReader(new String(file(TableFormat.CSV), StandardCharsets.UTF_8))).getRecords().size());
    assertEquals(0, new ObjectMapper().readTree(file(TableFormat.JSON)).size());
    try (ReadableWorkbook book = open(file(TableFormat.XLSX))) {
      assertEquals(1, book.getFirstSheet().read().size());
    }
  }

  @Test
  void aFileIsCalledByWhatItIsAbout() {
    Table table = LINES.of(List.of(), "Second year, 2026-11-25");
    assertEquals("lines-second-year-2026-11-25.xlsx", table.fileName(TableFormat.XLSX));
    assertEquals("lines.csv", LINES.of(List.of()).fileName(TableFormat.CSV));
  }

  @Test
  void aValueOfTheWrongSortIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> Kind.COUNT.cell(0.5));
    assertThrows(IllegalArgumentException.class, () -> Kind.SHARE.cell(1.5));
    assertThrows(IllegalArgumentException.class, () -> Kind.SHARE.cell(Double.NaN));
    assertThrows(IllegalArgumentException.class, () -> Kind.NUMBER.cell(Double.POSITIVE_INFINITY));
    assertThrows(IllegalArgumentException.class, () -> LINES.with("name", Kind.TEXT, "Again.", Line::name));
  }

  @Test
  void peopleReadItInWords() {
    assertEquals("83 %", Kind.SHARE.cell(0.833).inWords());
    assertEquals("−0.31", Kind.NUMBER.cell(-0.3149).inWords());
    assertEquals("1,234", Kind.COUNT.cell(1234).inWords());
    assertEquals("1 d 6 h", Kind.DURATION.cell(Duration.ofHours(30)).inWords());
    assertEquals("1 h 5 min", Kind.DURATION.cell(Duration.ofMinutes(65)).inWords());
    assertEquals("1 Mar 2026", Kind.DATE.cell(WREN.begun()).inWords());
    assertFalse(LINES.columns().get(0).onPaper());
  }
}

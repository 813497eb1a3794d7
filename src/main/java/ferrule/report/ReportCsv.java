package ferrule.report;

import ferrule.bench.SignedWork;
import ferrule.competency.Area;
import ferrule.competency.Competency;
import ferrule.competency.Verdict;
import ferrule.competency.VerdictWords;
import java.io.IOException;
import java.util.Locale;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * A cohort's report as comma-separated values (RFC 4180): one line for each apprentice and competency.
 *
 * <p>A spreadsheet that opens such a file takes a cell that begins with =, +, -, @, a tab or a carriage return for a
 * formula and may run it. A name or a title is people's own text, so such a cell gets an apostrophe in front, which a
 * spreadsheet takes for "this is text".
 */
public final class ReportCsv {

  /** In front of the text, so that a spreadsheet reads it as UTF-8. */
  public static final String BYTE_ORDER_MARK = "\uFEFF";

  private static final String FORMULA_STARTS = "=+-@\t\r";
  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder()
          .setHeader(
              "cohort", "as of", "edition", "apprentice", "left on", "area", "competency", "state", "missing",
              "sign-offs that count", "records")
          .get();

  private ReportCsv() {}

  /** A name for the report's file, such as {@code second-year-2026-11-25.csv}. */
  public static String fileName(CohortReport report) {
    String title = report.cohort().title().toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", "-");
    return title + "-" + report.asOf().day() + ".csv";
  }

  /** Writes a report. */
  public static void write(CohortReport report, Appendable out) throws IOException {
    CSVPrinter printer = new CSVPrinter(out, FORMAT);
    for (CohortReport.Row row : report.rows()) {
      for (Area area : report.programme().areas()) {
        for (Competency competency : area.competencies()) {
          writeLine(printer, report, row, area, competency);
        }
      }
    }
    printer.flush();
  }

  private static void writeLine(
      CSVPrinter printer, CohortReport report, CohortReport.Row row, Area area, Competency competency)
      throws IOException {
    Verdict verdict = row.progress().of(competency.id());
    printer.printRecord(
        safe(report.cohort().title()),
        report.asOf().day(),
        report.programme().edition(),
        safe(row.apprentice().fullName()),
        row.member().leftOn().filter(day -> report.hasLeft(row)).map(Object::toString).orElse(""),
        safe(area.title()),
        safe(competency.title()),
        VerdictWords.word(verdict),
        verdict.isMet() ? "" : safe(verdict.sentence()),
        verdict.works().size(),
        verdict.works().stream().map(SignedWork::number).map(Object::toString).collect(Collectors.joining(" ")));
  }

  /** The text as a cell that no spreadsheet takes for a formula. */
  static String safe(String text) {
    boolean formula = !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0;
    return formula ? "'" + text : text;
  }
}

package ferrule.report.table;

import ferrule.web.Paper;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.security.RouteRole;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * How a report's page gives its tables as files and itself as a paper. In its routes:
 *
 * <pre>{@code
 * TablePages.offer(routes, "/cohorts/{id}/hours", this::hoursTable, Access.COORDINATOR, Access.INSTRUCTOR);
 * TablePages.offerPaper(routes, "/cohorts/{id}/hours", this::printout, clock, Access.COORDINATOR, Access.INSTRUCTOR);
 * }</pre>
 *
 * <p>That answers {@code /cohorts/7/hours.csv}, {@code .xlsx} and {@code .pdf} ({@code ?size=letter} for that paper). The
 * page puts {@link #files} into its model and {@code {% include "report/files.peb" with {"files": files} %}} beneath the
 * table. Whatever the page's query says (a day, a filter) goes with the links.
 */
public final class TablePages {

  /**
   * Links to a table's files.
   *
   * @param what the table, in a word or two, where a page has several; may be empty
   * @param csv comma-separated values; empty where only a paper is offered
   * @param xlsx a spreadsheet; empty likewise
   * @param pdf a paper; empty if there is none
   */
  public record Files(String what, String csv, String xlsx, String pdf) {

    /** The same with the paper of the page. */
    public Files withPaper(String path, String query) {
      return new Files(what, csv, xlsx, path + ".pdf" + query);
    }
  }

  private TablePages() {}

  /** Answers {@code path.csv} and {@code path.xlsx} with this table. */
  public static void offer(RoutesConfig routes, String path, Function<Context, Table> table, RouteRole... who) {
    for (TableFormat format : List.of(TableFormat.CSV, TableFormat.XLSX)) {
      routes.get(path + "." + format.extension(), ctx -> send(ctx, table.apply(ctx), format), who);
    }
  }

  /** Answers {@code path.pdf} with this report on paper. */
  public static void offerPaper(
      RoutesConfig routes, String path, Function<Context, Printout> printout, Clock clock, RouteRole... who) {
    routes.get(path + ".pdf", ctx -> send(ctx, printout.apply(ctx), clock), who);
  }

  /**
   * Links to the files at a path.
   *
   * @param query of the page that they stand on, with its question mark; empty if it has none
   */
  public static Files files(String path, String query) {
    return files("", path, query);
  }

  /** The same for one of several tables of a page. */
  public static Files files(String what, String path, String query) {
    return new Files(what, path + ".csv" + query, path + ".xlsx" + query, "");
  }

  /** The query of a request, with its question mark; empty if it has none. */
  public static String query(Context ctx) {
    return Optional.ofNullable(ctx.queryString()).filter(q -> !q.isEmpty()).map(q -> "?" + q).orElse("");
  }

  private static void send(Context ctx, Table table, TableFormat format) {
    // RFC 6266: the encoded form carries letters beyond ASCII
    String name = URLEncoder.encode(table.fileName(format), StandardCharsets.UTF_8).replace("+", "%20");
    ctx.header("Content-Disposition", "attachment; filename*=UTF-8''" + name);
    ctx.contentType(format.mediaType());
    try {
      table.write(format, ctx.outputStream());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A report as a PDF on A4 that is said to be made at an instant. */
  public static byte[] pdf(Printout printout, Instant at) {
    return Paper.pdf("report/printout", PrintoutView.model(printout), Paper.Size.A4, at);
  }

  private static void send(Context ctx, Printout printout, Clock clock) {
    Paper.Size size = Paper.Size.parse(Visit.queryText(ctx, "size").orElse(""));
    Paper.send(ctx, "report/printout", PrintoutView.model(printout), size, clock.instant(), printout.title());
  }
}

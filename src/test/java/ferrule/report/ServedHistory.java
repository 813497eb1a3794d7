package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.bench.FlowStore;
import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.HoursPages;
import ferrule.competency.HoursStore;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.dossier.DossierBook;
import ferrule.dossier.DossierPages;
import ferrule.dossier.LinkStore;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.drill.ConfusionStore;
import ferrule.drill.DrillPages;
import ferrule.drill.PartNames;
import ferrule.drill.RulingStore;
import ferrule.drill.Work;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.Proofs;
import ferrule.people.Cohort;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.VisitedPages;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.params.provider.Arguments;

/**
 * A random history behind the real pages over real HTTP, so that what is compared with the plain facts is what people see
 * and what their files hold.
 */
abstract class ServedHistory extends VisitedPages {

  /** How many histories a test looks at on each database; {@code -Dferrule.histories=20} for more. */
  private static final int HISTORIES = Integer.getInteger("ferrule.histories", 1);

  protected RandomHistory history;
  protected RawRecords raw;
  protected Browser coordinator;
  protected Browser instructor;
  protected DrillPages drillPages;

  /** A fresh database of each sort for each of some seeds, which begin at this one. */
  static Stream<Arguments> databasesAndSeeds(long first) {
    return LongStream.range(first, first + HISTORIES).boxed().flatMap(seed -> Stream.of(
        Arguments.of(Named.of("H2", RealDatabases.h2()), seed),
        Arguments.of(Named.of("PostgreSQL", RealDatabases.postgres()), seed)));
  }

  /** Serves a history. */
  protected final void serve(Database database, RandomHistory served) {
    this.database = database;
    history = served;
    raw = history.raw();
    people = history.people();
    LedgerStore ledger = new LedgerStore(database);
    HoursStore hours = new HoursStore(database);
    PartNames names = new PartNames(RandomHistory.TRUMPET);
    FlowStore flow = new FlowStore(database);
    drillPages = new DrillPages(
        people, history.drills(), new RulingStore(database), Curriculum.bundled(), RandomHistory.TRUMPET,
        Studio.of(
            InstrumentReader.read(Curriculum.bundled(), "trumpet", RandomHistory.TRUMPET, new Problems()).orElseThrow(),
            RandomHistory.TRUMPET),
        Work.none(), history.clock(), RandomHistory.ZONE);
    server = WebServer.start(
        new WebConfig("127.0.0.1", 0, false, List.of()), people,
        List.of(
            drillPages, new CompetencyPages(history.desk(), new EquivalenceStore(database, ledger), hours),
            new HoursPages(history.desk(), hours), new ReportPages(history.desk()), new PacePages(history.desk()),
            new SummaryPages(history.desk()),
            new OverTimePages(history.desk(), flow, new CohortWeekStore(database), "e1"),
            new GraderPages(history.blind(), RandomHistory.TASKS, flow, history.desk()),
            new QuestionPages(history.drills(), people, RandomHistory.TRUMPET, history.clock()),
            new ConfusionPages(
                history.desk(), new ConfusionStore(database), history.drills().assignments(), drillPages.pictures(), names),
            new SchoolTablePages(history.desk(), hours, history.drills(), names), dossierPages(ledger)));
    add("magnus", Role.COORDINATOR);
    add("isolde", Role.INSTRUCTOR);
    coordinator = as("magnus");
    instructor = as("isolde");
  }

  private DossierPages dossierPages(LedgerStore ledger) {
    Proofs proofs = new Proofs(ledger, new HeadStore(database, HeadSigner.passing(), history.clock()));
    DossierBook book =
        new DossierBook(history.competencies(), ledger, proofs, history.clock(), RandomHistory.ZONE);
    return new DossierPages(
        book, new LinkStore(database, history.clock()), people, history.clock(), RandomHistory.ZONE);
  }

  /** Days to look at: the one before anything happened, some between, and today. */
  protected final List<AsOf> days(int between) {
    List<AsOf> days = new ArrayList<>();
    for (Instant at : history.moments(between)) {
      LocalDate day = LocalDate.ofInstant(at, RandomHistory.ZONE);
      days.add(history.desk().asOf(Optional.of(day.toString())));
    }
    return days;
  }

  /** A cohort as it was at a moment. */
  protected final PlainCohort plain(Cohort cohort, AsOf asOf) {
    return PlainCohort.of(history, cohort, asOf);
  }

  /** A table's file, a row as its cells by heading. */
  protected final List<Map<String, String>> rows(String path) {
    Browser.Answer answer = coordinator.get(path);
    assertEquals(200, answer.status(), path + "\n" + answer.body());
    return csv(answer.body());
  }

  /** The rows of such a file. */
  static List<Map<String, String>> csv(String text) {
    try {
      List<List<String>> lines = new ArrayList<>();
      CSVFormat.RFC4180.parse(new StringReader(text.substring(1))).forEach(line -> lines.add(line.toList()));
      List<Map<String, String>> rows = new ArrayList<>();
      for (List<String> line : lines.subList(1, lines.size())) {
        Map<String, String> row = new LinkedHashMap<>();
        IntStream.range(0, line.size()).forEach(i -> row.put(lines.get(0).get(i), line.get(i)));
        rows.add(row);
      }
      return rows;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A page as it is read. */
  protected final Document page(Browser reader, String path) {
    Browser.Answer answer = reader.get(path);
    assertEquals(200, answer.status(), path + "\n" + answer.body());
    return Jsoup.parse(answer.body());
  }

  /** The words in the cells of a page's table, without its headings and without lines that have no number. */
  protected static List<List<String>> cells(Document page, String labelOfTable) {
    return page.select("[aria-label=\"" + labelOfTable + "\"] tbody tr").stream()
        .filter(line -> line.select("td").size() > 0)
        .map(line -> line.select("th, td").stream().map(Element::text).toList()).toList();
  }

  /** A cell of a file holds this number. */
  protected static void assertNumber(double expected, String cell, String about) {
    assertEquals(expected, Double.parseDouble(cell), 1e-9, about);
  }
}

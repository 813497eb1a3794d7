package ferrule.app;

import com.sun.management.OperatingSystemMXBean;
import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How long pages take over HTTP in a large school that {@link LargeSchool} made, beside one hand-written aggregate over the
 * same records in the same run. Both take turns, so that whatever else the machine does meets both. Arguments: where the
 * school is ({@code h2:FOLDER}, {@code pg:FOLDER} or a JDBC address), how often each is measured (15 if absent), and
 * {@code all} to look at further pages too.
 *
 * <p>Server, client and, with H2, the database are one process, so that {@code -Xmx} bounds all of it; its largest size is
 * printed at the end.
 */
public final class ReportScale {

  // all that was signed about a cohort's apprentices and all that they answered
  private static final String OF_COHORT = """
      select s.person_id, count(*), sum(case when r.credit >= 1 then 1 else 0 end), count(distinct i.part),
        (select count(*) from record_log l where l.subject_id = s.person_id and l.kind in
          ('sign-off', 'correction', 'withdrawal', 'second-signature')),
        (select sum(h.minutes) from bench_hours h where h.apprentice_id = s.person_id)
      from cohort_member m
      join drill_sitting s on s.person_id = m.person_id
      join drill_response r on r.sitting_id = s.id
      join drill_item i on i.sitting_id = r.sitting_id and i.position = r.position
      where m.cohort_id = '%s' and m.left_on is null and i.kind = 'name'
      group by s.person_id""";

  // the same about everyone, by cohort
  private static final String OF_ALL = """
      select m.cohort_id, count(*), sum(case when r.credit >= 1 then 1 else 0 end), count(distinct i.part),
        (select count(*) from record_log l join cohort_member n on n.person_id = l.subject_id
          where n.cohort_id = m.cohort_id and l.kind in ('sign-off', 'correction', 'withdrawal', 'second-signature'))
      from cohort_member m
      join drill_sitting s on s.person_id = m.person_id
      join drill_response r on r.sitting_id = s.id
      join drill_item i on i.sitting_id = r.sitting_id and i.position = r.position
      where m.left_on is null and i.kind = 'name'
      group by m.cohort_id""";

  // what is kept of everyone, as the summary counts it
  private static final String OF_KEPT = """
      select m.cohort_id, count(*), sum(length(k.states) - length(replace(k.states, 'c', ''))),
        sum(length(k.states) - length(replace(k.states, 'l', ''))), max(k.last_work)
      from cohort_member m join kept_progress k on k.person_id = m.person_id
      where m.left_on is null and not exists (select 1 from new_evidence n where n.person_id = k.person_id)
      group by m.cohort_id""";

  private final OperatingSystemMXBean process =
      (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();
  private final Database database;
  private final int port;
  private final int times;
  private int asked;

  private ReportScale(Database database, int port, int times) {
    this.database = database;
    this.port = port;
    this.times = times;
  }

  public static void main(String[] args) throws Exception {
    int times = args.length > 1 ? Integer.parseInt(args[1]) : 15;
    long began = System.nanoTime();
    try (SchoolDatabase school = SchoolDatabase.open(args[0], Optional.empty())) {
      Installation installation = new Installation(
          Books.read(Curriculum.bundled()), school.database(),
          HeadSigner.kept(Files.createTempDirectory("scale").resolve("head-key")), Clock.systemUTC(), ZoneId.of("UTC"));
      try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, List.of()))) {
        System.out.printf("%s: open after %.1f s%n", args[0], (System.nanoTime() - began) / 1e9);
        judgeAll(installation.progressRound());
        ReportScale scale = new ReportScale(school.database(), server.port(), times);
        scale.measure();
        if (args.length > 2) {
          scale.lookRound();
        }
      }
    }
    System.out.println(Files.readAllLines(Path.of("/proc/self/status")).stream()
        .filter(line -> line.startsWith("VmHWM")).findFirst().orElse("size unknown"));
    System.exit(0); // the test server's threads would stay
  }

  /** Does at once what the server does in the background. */
  static void judgeAll(Rounds.Round round) {
    long began = System.nanoTime();
    int rounds = 1;
    while (round.more()) {
      rounds++;
    }
    System.out.printf("judged all in %.1f s, %,d rounds%n", (System.nanoTime() - began) / 1e9, rounds);
  }

  private Browser signedIn(String name) {
    Browser browser = new Browser(port);
    browser.signIn(name, LargeSchool.PASSWORD, "/");
    return browser;
  }

  private static void get(Browser browser, String path) {
    int status = browser.get(path).status();
    if (status != 200) {
      throw new IllegalStateException(path + " answered " + status);
    }
  }

  private void query(String sql) {
    database.dsl().connection(connection -> {
      // H2 answers the same text from memory as long as nothing was written
      String anew = sql + " -- " + ++asked;
      try (var statement = connection.createStatement(); var rows = statement.executeQuery(anew)) {
        while (rows.next()) {
          rows.getObject(1);
        }
      }
    });
  }

  private void measure() {
    Browser coordinator = signedIn("coordinator");
    String cohort = LargeSchool.cohort(0).toString();
    compare("cohort page", () -> get(coordinator, "/cohorts/" + cohort), "aggregate over its records",
        () -> query(OF_COHORT.formatted(cohort)), times);
    compare("every competency at once", () -> get(coordinator, "/cohorts/" + cohort + "?whole=yes"),
        "aggregate over its records", () -> query(OF_COHORT.formatted(cohort)), times);
    compare("summary", () -> get(coordinator, "/summary"), "aggregate over what is kept", () -> query(OF_KEPT), times);
    compare("summary", () -> get(coordinator, "/summary"), "aggregate over all records", () -> query(OF_ALL), 3);
  }

  private void compare(String what, Runnable page, String beside, Runnable sql, int times) {
    for (int i = 0; i < Math.min(times, 8); i++) {
      page.run();
    }
    sql.run();
    double[] pages = new double[times];
    double[] queries = new double[times];
    double[] busy = new double[times];
    for (int i = 0; i < times; i++) {
      long cpu = process.getProcessCpuTime();
      pages[i] = millis(page);
      busy[i] = (process.getProcessCpuTime() - cpu) / 1e6;
      queries[i] = millis(sql);
    }
    Arrays.sort(pages);
    Arrays.sort(queries);
    Arrays.sort(busy);
    System.out.printf(
        Locale.ENGLISH,
        "%s: median %.0f ms (least %.0f, most %.0f; %.0f ms of the processor); %s: median %.0f ms (least %.0f): %.2f times%n",
        what, pages[times / 2], pages[0], pages[times - 1], busy[times / 2], beside, queries[times / 2], queries[0],
        pages[times / 2] / queries[times / 2]);
  }

  private static double millis(Runnable work) {
    long began = System.nanoTime();
    work.run();
    return (System.nanoTime() - began) / 1e6;
  }

  /** Opens further pages, twice each. */
  private void lookRound() {
    String cohort = LargeSchool.cohort(0).toString();
    List<String> pages = new ArrayList<>(List.of(
        "coordinator /cohorts", "coordinator /cohorts/" + cohort + "?competency=c13",
        "coordinator /cohorts/" + cohort + "?as-of=2026-06-01", "coordinator /summary?competency=c13",
        "coordinator /cohorts/" + cohort + "/questions", "coordinator /graders", "coordinator /book",
        "coordinator /bench-over-time", "coordinator /people", "instructor-0 /class", "instructor-0 /bench",
        "instructor-0 /hours", 
        "instructor-0 /record/" + LargeSchool.apprentice(0), "apprentice-0 /", "apprentice-0 /drills", "apprentice-0 /practise",
        "apprentice-0 /record"));
    for (String page : pages) {
      String[] whoAndWhere = page.split(" ");
      Browser browser = signedIn(whoAndWhere[0]);
      try {
        double first = millis(() -> get(browser, whoAndWhere[1]));
        double second = millis(() -> get(browser, whoAndWhere[1]));
        System.out.printf("%-75s %8.0f ms, again %8.0f ms%n", page, first, second);
      } catch (RuntimeException e) {
        System.out.printf("%-75s %s%n", page, e.getMessage());
      }
    }
  }
}

package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.people.Cohort;
import ferrule.report.bundle.LongWorker;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.IOException;
import java.nio.file.Files;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How much slower pages are while a bundle of the whole programme is made at the same node: the same pages in turn with
 * the work going on and without it, in the same run, on the demo programme, on H2 and on PostgreSQL. The work is asked
 * for again as soon as it is done.
 *
 * <p>Run: {@code mvn -q -Pbench -DskipTests test-compile exec:exec -Dexec.executable=java -Dexec.classpathScope=test
 * -Dexec.args="-cp %classpath ferrule.app.LongWorkRatio"}; with {@code taskset -c 0} before it on one core.
 */
public final class LongWorkRatio {

  private static final int TURNS = 3;
  private static final long TURN_NANOS = 4_000_000_000L;

  private LongWorkRatio() {}

  /** Prints, for each page, the median and the slowest twentieth without and with the work, and their ratios. */
  public static void main(String[] args) throws IOException, InterruptedException {
    try (Database h2 = Database.open(DatabaseUrl.h2File(Files.createTempDirectory("ferrule-long"), "long"))) {
      measure("H2", h2);
    }
    try (Database postgres = RealDatabases.postgres()) {
      measure("PostgreSQL", postgres);
    }
    System.exit(0); // the test server of PostgreSQL would go on
  }

  private static void measure(String name, Database database) throws InterruptedException {
    Installation installation = new Installation(
        Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    DemoProgramme.fill(installation);
    Cohort cohort = installation.people().cohorts().get(0);
    try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS));
        Work work = new Work(installation.longWorker(), server.port())) {
      Browser magnus = new Browser(server.port());
      magnus.signIn("magnus", "river ledger", "/");
      List<String> pages = List.of("/cohorts/" + cohort.id(), "/cohorts/" + cohort.id() + "/questions", "/people", "/book");
      work.turn(true);
      pages.forEach(page -> visit(magnus, page, new ArrayList<>()));
      for (String page : pages) {
        List<Long> alone = new ArrayList<>();
        List<Long> beside = new ArrayList<>();
        for (int turn = 0; turn < TURNS; turn++) {
          work.turn(false);
          visit(magnus, page, alone);
          work.turn(true);
          visit(magnus, page, beside);
        }
        print(name, page.replace(cohort.id().toString(), "{cohort}"), alone, beside);
      }
      work.turn(false);
      System.out.println(name + ": " + work.made() + " bundles were made meanwhile");
    }
  }

  private static void visit(Browser browser, String page, List<Long> times) {
    long until = System.nanoTime() + TURN_NANOS;
    while (System.nanoTime() < until) {
      long start = System.nanoTime();
      if (browser.get(page).status() != 200) {
        throw new IllegalStateException(page + " was not shown");
      }
      times.add(System.nanoTime() - start);
    }
  }

  private static void print(String name, String page, List<Long> alone, List<Long> beside) {
    System.out.printf(
        Locale.ROOT, "%s %s: median %.1f ms, beside the work %.1f ms: %.2f times; slowest twentieth from %.1f ms, %.1f ms: "
            + "%.2f times%n",
        name, page, at(alone, 0.5), at(beside, 0.5), at(beside, 0.5) / at(alone, 0.5), at(alone, 0.95), at(beside, 0.95),
        at(beside, 0.95) / at(alone, 0.95));
  }

  private static double at(List<Long> nanos, double share) {
    List<Long> sorted = new ArrayList<>(nanos);
    Collections.sort(sorted);
    return sorted.get((int) (share * sorted.size())) / 1e6;
  }

  /** Asks for bundles and makes them, while it is its turn; what is begun out of turn is cancelled. */
  private static final class Work implements AutoCloseable {

    private final AtomicBoolean on = new AtomicBoolean();
    private final AtomicInteger made = new AtomicInteger();
    private final Browser coordinator;
    private final Thread thread;
    private final LongWorker worker;

    Work(LongWorker worker, int port) {
      this.worker = worker;
      this.coordinator = new Browser(port);
      coordinator.signIn("magnus", "river ledger", "/");
      this.thread = new Thread(this::work, "long-work");
      thread.setDaemon(true);
      thread.setPriority(Thread.MIN_PRIORITY);
      thread.start();
    }

    private void work() {
      String csrf = coordinator.get("/bundles").hidden("csrf");
      while (!Thread.currentThread().isInterrupted()) {
        if (on.get()) {
          coordinator.post("/bundles", Map.of("csrf", csrf, "cohort", "", "as-of", ""));
          if (worker.round(Work::told)) {
            made.incrementAndGet();
          }
        } else {
          told(Duration.ofMillis(5));
        }
      }
    }

    private static boolean told(Duration rest) {
      try {
        Thread.sleep(rest.toMillis());
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      return Thread.currentThread().isInterrupted();
    }

    void turn(boolean wanted) throws InterruptedException {
      on.set(wanted);
      if (!wanted) {
        String list = coordinator.get("/bundles/list").body();
        String csrf = coordinator.get("/bundles").hidden("csrf");
        Matcher open = Pattern.compile("/bundles/[0-9a-f-]+/cancel").matcher(list);
        while (open.find()) {
          coordinator.post(open.group(), Map.of("csrf", csrf));
        }
        Thread.sleep(1_000); // it hears of it within a second
      } else {
        Thread.sleep(200);
      }
    }

    int made() {
      return made.get();
    }

    @Override
    public void close() {
      thread.interrupt();
    }
  }
}

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
import java.nio.file.Files;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * How much slower pages are while a bundle of the whole programme is made at the same node, or while all answers are read
 * anew as after an upgrade: the same pages in turns with the work going on and without it, in the same run. Out of turn the
 * work waits, and goes on where it was, so that a long one is met at each of its steps; when it is done it is asked for
 * again.
 *
 * <p>Without arguments, on the demo programme, on H2 and on PostgreSQL. Or over a large school that {@link LargeSchool}
 * made: {@code h2:FOLDER}, {@code pg:FOLDER} or a JDBC address, and how many turns (6 if absent); with a third argument
 * only from the step of the work on whose name begins so, such as {@code "Writing the log"}, or {@code known} for the
 * reading of all answers.
 *
 * <p>Run: {@code mvn -q -Pbench -DskipTests test-compile exec:exec -Dexec.executable=java -Dexec.classpathScope=test
 * -Dexec.args="-cp %classpath ferrule.app.LongWorkRatio"}; with {@code taskset -c 0} before it on one core.
 */
public final class LongWorkRatio {

  private static final long VISIT_NANOS = 4_000_000_000L;

  private final Installation installation;
  private final int turns;
  private final Optional<String> from;

  private LongWorkRatio(Database database, int turns, Optional<String> from) {
    // the zone that ReportScale has: what is kept of everybody holds for one
    this.installation = new Installation(
        Books.read(Curriculum.bundled()), database, HeadSigner.passing(), Clock.systemUTC(), ZoneId.of("UTC"));
    this.turns = turns;
    this.from = from;
  }

  /** Prints, for each page, the median and the slowest twentieth without and with the work, and their ratios. */
  public static void main(String[] args) throws Exception {
    if (args.length > 0) {
      try (SchoolDatabase school = SchoolDatabase.open(args[0], Optional.empty())) {
        new LongWorkRatio(
                school.database(), args.length > 1 ? Integer.parseInt(args[1]) : 6,
                args.length > 2 ? Optional.of(args[2]) : Optional.empty())
            .measureSchool(args[0], school.database());
      }
    } else {
      try (Database h2 = Database.open(DatabaseUrl.h2File(Files.createTempDirectory("ferrule-long"), "long"))) {
        new LongWorkRatio(h2, 3, Optional.empty()).measureDemo("H2");
      }
      try (Database postgres = RealDatabases.postgres()) {
        new LongWorkRatio(postgres, 3, Optional.empty()).measureDemo("PostgreSQL");
      }
    }
    System.exit(0); // the test server of PostgreSQL would go on
  }

  private void measureDemo(String name) throws InterruptedException {
    DemoProgramme.fill(installation);
    Cohort cohort = installation.people().cohorts().get(0);
    try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS))) {
      Browser magnus = new Browser(server.port());
      magnus.signIn("magnus", "river ledger", "/");
      String page = "/cohorts/" + cohort.id();
      measure(
          name, new Bundles(installation.longWorker(), magnus),
          Stream.of(page, page + "/questions", "/people", "/book").map(p -> new Visited(magnus, p)).toList());
    }
  }

  private void measureSchool(String name, Database database) throws InterruptedException {
    ReportScale.judgeAll(installation.progressRound());
    try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, false, List.of()))) {
      Browser coordinator = signedIn(server, "coordinator");
      Browser instructor = signedIn(server, "instructor-0");
      Browser apprentice = signedIn(server, "apprentice-0");
      String cohort = "/cohorts/" + LargeSchool.cohort(0);
      Labour labour = from.filter("known"::equals).isPresent()
          ? new Reading(installation.knownRound(), database)
          : new Bundles(installation.longWorker(), coordinator);
      measure(name, labour, List.of(
          new Visited(coordinator, cohort), new Visited(coordinator, "/summary"), new Visited(coordinator, "/people"),
          new Visited(coordinator, "/book"), new Visited(instructor, "/bench"), new Visited(apprentice, "/record")));
    }
  }

  private static Browser signedIn(WebServer server, String name) {
    Browser browser = new Browser(server.port());
    browser.signIn(name, LargeSchool.PASSWORD, "/");
    return browser;
  }

  private void measure(String name, Labour labour, List<Visited> pages) throws InterruptedException {
    try (Work work = new Work(labour)) {
      pages.forEach(page -> page.visit(new ArrayList<>()));
      work.turn(true);
      while (from.isPresent() && !labour.step().startsWith(from.get())) {
        Thread.sleep(1_000);
      }
      pages.forEach(page -> page.visit(new ArrayList<>()));
      for (int turn = 0; turn < turns; turn++) {
        work.turn(false);
        pages.forEach(page -> page.visit(page.alone()));
        work.turn(true);
        pages.forEach(page -> page.visit(page.beside()));
        System.out.println(name + ", turn " + (turn + 1) + ": " + labour.step());
      }
      pages.forEach(page -> System.out.println(name + " " + page.told()));
    }
  }

  /** A page, who opens it, and how long that took them, in nanoseconds, without the work and beside it. */
  private record Visited(Browser browser, String page, List<Long> alone, List<Long> beside) {

    Visited(Browser browser, String page) {
      this(browser, page, new ArrayList<>(), new ArrayList<>());
    }

    void visit(List<Long> times) {
      long until = System.nanoTime() + VISIT_NANOS;
      while (System.nanoTime() < until) {
        long start = System.nanoTime();
        if (browser.get(page).status() != 200) {
          throw new IllegalStateException(page + " was not shown");
        }
        times.add(System.nanoTime() - start);
      }
    }

    String told() {
      return String.format(
          Locale.ROOT, "%s: median %.1f ms, beside the work %.1f ms: %.2f times; slowest twentieth from %.1f ms, %.1f ms: "
              + "%.2f times; %d and %d times",
          page, at(alone, 0.5), at(beside, 0.5), at(beside, 0.5) / at(alone, 0.5), at(alone, 0.95), at(beside, 0.95),
          at(beside, 0.95) / at(alone, 0.95), alone.size(), beside.size());
    }

    private static double at(List<Long> nanos, double share) {
      List<Long> sorted = new ArrayList<>(nanos);
      Collections.sort(sorted);
      return sorted.get((int) (share * sorted.size())) / 1e6;
    }
  }

  /** What goes on beside the pages. */
  private interface Labour extends Crew.Hand {

    /** What it does now. */
    String step();
  }

  /** Asks for bundles and makes them. */
  private record Bundles(LongWorker worker, Browser coordinator, String csrf) implements Labour {

    Bundles(LongWorker worker, Browser coordinator) {
      this(worker, coordinator, coordinator.get("/bundles").hidden("csrf"));
    }

    @Override
    public Duration work(LongWorker.Told told) {
      coordinator.post("/bundles", Map.of("csrf", csrf, "cohort", "", "as-of", ""));
      worker.round(told);
      return Duration.ofMillis(5);
    }

    // as its page says it
    @Override
    public String step() {
      Matcher told = Pattern.compile("(Judging|Writing|Printing|Packing) [^<]*").matcher(coordinator.get("/bundles/list").body());
      return told.find() ? told.group().strip() : "not begun";
    }
  }

  /** Reads everybody's answers anew, in portions, as a server does after an upgrade. */
  private static final class Reading implements Labour {

    private final Database database;
    private final AtomicInteger portions = new AtomicInteger();
    private final Rounds rounds;

    Reading(Rounds.Round round, Database database) {
      this.database = database;
      this.rounds = new Rounds(() -> List.of(() -> {
        portions.incrementAndGet();
        return round.more();
      }));
    }

    @Override
    public Duration work(LongWorker.Told told) {
      if (left() == 0) {
        database.dsl().execute("insert into known_anew (id, person_id, after_firsts)"
            + " select id, id, false from person where id in (select person_id from drill_sitting)");
      }
      return rounds.work(told);
    }

    private int left() {
      return database.dsl().fetchOne("select count(*) from known_anew").get(0, Integer.class);
    }

    @Override
    public String step() {
      return "known, " + portions + " portions, " + left() + " people left";
    }
  }

  /** Lets it go on while it is its turn, and wait out of turn. */
  private static final class Work implements AutoCloseable {

    private final Labour labour;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    private boolean on;
    private boolean over;

    Work(Labour labour) {
      this.labour = labour;
      Thread thread = new Thread(this::work, "long-work");
      thread.setDaemon(true);
      thread.start();
    }

    private void work() {
      Duration rest = Duration.ofMillis(5);
      while (!told(rest)) {
        rest = labour.work(this::told);
      }
    }

    /** Rests so long, and further until it is the work's turn. */
    private boolean told(Duration rest) {
      lock.lock();
      try {
        long left = rest.toNanos();
        while (!over && (left > 0 || !on)) {
          if (left > 0) {
            left = changed.awaitNanos(left);
          } else {
            changed.await();
          }
        }
        return over;
      } catch (InterruptedException e) {
        return true;
      } finally {
        lock.unlock();
      }
    }

    private void change(Runnable to) {
      lock.lock();
      try {
        to.run();
        changed.signalAll();
      } finally {
        lock.unlock();
      }
    }

    void turn(boolean wanted) throws InterruptedException {
      change(() -> on = wanted);
      Thread.sleep(1_000); // until it comes to where it may rest
    }

    @Override
    public void close() {
      change(() -> over = true);
    }
  }
}

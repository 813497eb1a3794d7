package ferrule.app;

import ferrule.curriculum.Curriculum;
import ferrule.drill.Assignment;
import ferrule.drill.Conditions;
import ferrule.drill.DrillStore;
import ferrule.drill.Drills;
import ferrule.drill.ItemKind;
import ferrule.drill.Plan;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import ferrule.ledger.HeadSigner;
import ferrule.people.Cohort;
import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SignedIn;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import io.javalin.Javalin;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Three hundred apprentices who answer at once, each in a sitting of their own, while two coordinators open their cohorts'
 * reports: answers a second, how long they take and what fails, as a ratio to a bare Javalin route that writes one row
 * into the same kind of database, in turn in the same run. Both servers are processes of their own; the load comes from
 * {@code wrk}, which has to be on the path.
 *
 * <p>Arguments: the database, {@code h2} or {@code postgres}, and the rounds (3 if absent).
 */
public final class AnsweringLoad {

  private static final int APPRENTICES = 300;
  private static final int LENGTH = Plan.LONGEST;
  private static final int COHORTS = 2;
  private static final Opening OPENING = Opening.by(Opening.How.PASSWORD, "a measurement");
  private static final Pattern PORT = Pattern.compile("at http://[^:]+:(\\d+)/");
  private static final List<String> SAID =
      List.of("third slide crook", "upper outer tube of the third slide", "water key saddle", "no idea at all", "finger hook");

  private final Path folder;
  private final String url;
  private final List<String> coordinators = new ArrayList<>();
  private final List<UUID> cohorts = new ArrayList<>();
  private final List<String> requests = new ArrayList<>();

  private AnsweringLoad(Path folder, String url) {
    this.folder = folder;
    this.url = url;
  }

  /** A route that does nothing but write one row. */
  static final class BareRow {

    private BareRow() {}

    /** Serves it over this database, and says where. */
    public static void main(String[] args) {
      Database database = open(args[0]);
      database.dsl().execute("create table bare_row (id bigint primary key, said varchar(200) not null)");
      AtomicLong next = new AtomicLong();
      Javalin bare =
          Javalin.create(
                  config -> {
                    config.startup.showJavalinBanner = false;
                    config.routes.post(
                        "/row",
                        ctx -> {
                          String said = ctx.formParam("answer");
                          database.dsl().execute("insert into bare_row values (?, ?)", next.incrementAndGet(), said);
                          ctx.result("kept");
                        });
                  })
              .start("127.0.0.1", 0);
      System.out.println("open at http://127.0.0.1:" + bare.port() + "/");
    }
  }

  private static Database open(String url) {
    Optional<String> user = url.startsWith("jdbc:postgresql") ? Optional.of("postgres") : Optional.empty();
    return Database.open(DatabaseUrl.parse(url), user, Optional.empty());
  }

  /** Prints the figures of each round. */
  public static void main(String[] args) throws Exception {
    boolean postgres = args.length > 0 && args[0].equals("postgres");
    int rounds = args.length > 1 ? Integer.parseInt(args[1]) : 3;
    Path folder = Files.createTempDirectory("ferrule-load");
    String url = postgres ? RealDatabases.emptyPostgres().jdbc() : DatabaseUrl.h2File(folder, "ferrule").jdbc();
    String bareUrl = postgres ? RealDatabases.emptyPostgres().jdbc() : DatabaseUrl.h2File(folder, "bare").jdbc();
    AnsweringLoad load = new AnsweringLoad(folder, url);
    load.fill();
    try (Server bare = Server.start(BareRow.class.getName(), bareUrl);
        Server ferrule = Server.start(Ferrule.class.getName(), "serve", "--port", "0", "--data", folder + "", "--db", url)) {
      load.rounds(bare, ferrule, rounds);
    }
    System.exit(0);
  }

  // -- rounds

  private void rounds(Server bare, Server ferrule, int rounds) throws Exception {
    int share = requests.size() / (rounds + 1);
    for (int round = 0; round <= rounds; round++) {
      Path answers = Files.write(folder.resolve("answers"), requests.subList(round * share, (round + 1) * share));
      Path rows = Files.write(folder.resolve("rows"), Collections.nCopies(share, "/row\tnone\tanswer=third+slide+crook"));
      String name = round == 0 ? "warming up" : "round " + round;
      double bareRate = Load.of(folder, bare.port(), rows).tell(name + ", bare row");
      try (Reports reports = new Reports(ferrule.port())) {
        double rate = Load.of(folder, ferrule.port(), answers).tell(name + ", answers");
        System.out.printf(Locale.ROOT, "%s: %.2f of the bare rate; %s%n", name, rate / bareRate, reports.tell());
      }
    }
  }

  /** Two coordinators, each opening a cohort's report, a second after they have read the last. */
  private final class Reports implements AutoCloseable {
    private final HttpClient client = HttpClient.newHttpClient();
    private final AtomicBoolean over = new AtomicBoolean();
    private final AtomicLong failures = new AtomicLong();
    private final List<Long> millis = Collections.synchronizedList(new ArrayList<>());
    private final List<Thread> threads = new ArrayList<>();

    Reports(int port) {
      for (int c = 0; c < COHORTS; c++) {
        HttpRequest request =
            HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/cohorts/" + cohorts.get(c)))
                .header("Cookie", "ferrule_session=" + coordinators.get(c)).build();
        Thread thread = new Thread(() -> open(request), "coordinator");
        thread.start();
        threads.add(thread);
      }
    }

    private void open(HttpRequest request) {
      while (!over.get()) {
        long start = System.nanoTime();
        try {
          if (client.send(request, HttpResponse.BodyHandlers.ofString()).statusCode() != 200) {
            failures.incrementAndGet();
          }
          millis.add(TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start));
          Thread.sleep(1_000);
        } catch (IOException e) {
          failures.incrementAndGet();
        } catch (InterruptedException e) {
          return;
        }
      }
    }

    String tell() {
      List<Long> sorted = new ArrayList<>(millis);
      Collections.sort(sorted);
      return sorted.isEmpty()
          ? "no report was open"
          : sorted.size() + " reports, median " + sorted.get(sorted.size() / 2) + " ms, longest "
              + sorted.get(sorted.size() - 1) + " ms, " + failures + " failed";
    }

    @Override
    public void close() throws InterruptedException {
      over.set(true);
      for (Thread thread : threads) {
        thread.join();
      }
    }
  }

  /** What {@code wrk} says of one load. */
  private record Load(double seconds, String latencies, long sent, long failed) {

    private static final String SCRIPT =
        """
        local ffi = require("ffi")
        ffi.cdef("typedef struct { long s; long us; } moment; int gettimeofday(moment *now, void *zone);")
        local function now()
          local at = ffi.new("moment")
          ffi.C.gettimeofday(at, nil)
          return tonumber(at.s) + tonumber(at.us) / 1e6
        end
        local lines, next, failed, sent, start = {}, 0, 0, 0, 0
        function init(args)
          for line in io.lines(args[1]) do lines[#lines + 1] = line end
        end
        function request()
          if next == 0 then start = now() end
          next = next + 1
          if next > #lines then next = #lines end
          local path, token, body = lines[next]:match("([^\t]+)\t([^\t]+)\t([^\t]+)")
          return wrk.format("POST", path, {["Cookie"] = "ferrule_session=" .. token, ["X-Answer"] = "1",
            ["Content-Type"] = "application/x-www-form-urlencoded"}, body)
        end
        function response(status, headers, body)
          sent = sent + 1
          if status ~= 200 then failed = failed + 1 end
          if sent >= #lines then
            wrk.thread:set("failed", failed)
            wrk.thread:set("took", now() - start)
            wrk.thread:stop()
          end
        end
        local threads = {}
        function setup(thread) table.insert(threads, thread) end
        function done(summary, latency, requests)
          local bad = summary.errors.connect + summary.errors.read + summary.errors.write + summary.errors.timeout
          local took = summary.duration / 1e6
          for _, thread in ipairs(threads) do
            bad = bad + (thread:get("failed") or 0)
            took = thread:get("took") or took
          end
          io.write(string.format("RESULT %f %d %d p50 %.1f ms, p99 %.1f ms, longest %.1f ms\\n",
            took, summary.requests, bad, latency:percentile(50) / 1e3,
            latency:percentile(99) / 1e3, latency.max / 1e3))
        end
        """;

    static Load of(Path folder, int port, Path lines) throws Exception {
      Path script = Files.writeString(folder.resolve("load.lua"), SCRIPT);
      Process wrk =
          new ProcessBuilder(
                  "wrk", "-t1", "-c" + APPRENTICES, "-d20s", "--timeout", "60s", "-s", script.toString(),
                  "http://127.0.0.1:" + port, "--", lines.toString())
              .redirectErrorStream(true).start();
      String said = new String(wrk.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      Matcher result = Pattern.compile("RESULT (\\S+) (\\d+) (\\d+) (.*)").matcher(said);
      if (!result.find()) {
        throw new IllegalStateException("wrk said: " + said);
      }
      return new Load(
          Double.parseDouble(result.group(1)), result.group(4), Long.parseLong(result.group(2)),
          Long.parseLong(result.group(3)));
    }

    double tell(String what) {
      double rate = sent / seconds;
      System.out.printf(Locale.ROOT, "%s: %.0f a second (%d), %s, %d failed%n", what, rate, sent, latencies, failed);
      return rate;
    }
  }

  /** A server in a process of its own. */
  private record Server(Process process, int port) implements AutoCloseable {

    static Server start(String main, String... args) throws IOException {
      List<String> command = new ArrayList<>(List.of(
          Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-Xmx512m", "-cp",
          System.getProperty("java.class.path"), main));
      command.addAll(List.of(args));
      ProcessBuilder builder = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT);
      if (command.toString().contains("jdbc:postgresql")) {
        builder.environment().put("FERRULE_DB_USER", "postgres");
      }
      Process process = builder.start();
      var said = process.inputReader();
      for (String line = said.readLine(); line != null; line = said.readLine()) {
        Matcher port = PORT.matcher(line);
        if (port.find()) {
          return new Server(process, Integer.parseInt(port.group(1)));
        }
      }
      throw new IllegalStateException(main + " did not start");
    }

    @Override
    public void close() {
      process.destroy();
    }
  }

  // -- who answers what

  private void fill() {
    Books books = Books.read(Curriculum.bundled());
    try (Database database = open(url)) {
      PeopleStore people = new PeopleStore(database, Clock.systemUTC());
      new Installation(books, database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC).competencies();
      DrillStore store = new DrillStore(database);
      Random random = new Random(20261125);
      Drills drills = Drills.of(
          store, books.glossary(), books.studio(), books.work(), books.edition(), Clock.systemUTC(), random::nextLong);
      Plan plan = Plan.ofAssemblies(
          List.of(ConceptId.of("third-slide-assembly"), ConceptId.of("main-slide-assembly")),
          Set.of(ItemKind.NAME), LENGTH, true);
      Person instructor = add(people, "instructor", Role.INSTRUCTOR);
      List<Assignment> assignments = new ArrayList<>();
      for (int c = 0; c < COHORTS; c++) {
        LocalDate start = LocalDate.now(ZoneOffset.UTC).minusMonths(2);
        Cohort cohort =
            new Cohort(UUID.randomUUID(), "Cohort " + c, books.programme().edition(), start, start.plusYears(1));
        people.add(cohort);
        cohorts.add(cohort.id());
        Assignment assignment = new Assignment(
            UUID.randomUUID(), cohort.id(), Set.of(), instructor.id(), "All at once", plan,
            Conditions.dueOn(LocalDate.now(ZoneOffset.UTC).plusDays(7)), Instant.now(), Optional.empty());
        store.assignments().add(assignment);
        assignments.add(assignment);
        coordinators.add(people.sessions().open(add(people, "coordinator" + c, Role.COORDINATOR).id(), OPENING));
      }
      List<List<String>> all = new ArrayList<>();
      for (int a = 0; a < APPRENTICES; a++) {
        Person apprentice = add(people, "apprentice" + a, Role.APPRENTICE);
        people.join(cohorts.get(a % COHORTS), apprentice.id(), LocalDate.now(ZoneOffset.UTC), Optional.empty());
        String token = people.sessions().open(apprentice.id(), OPENING);
        SignedIn session = people.sessions().find(token).orElseThrow();
        Sitting sitting = drills.start(apprentice, assignments.get(a % COHORTS)).orElseThrow();
        List<String> answers = new ArrayList<>();
        all.add(answers);
        for (int position = 1; position <= sitting.items().size(); position++) {
          answers.add(String.join("\t", "/drill/" + sitting.id() + "/" + position, token,
              "csrf=" + encoded(session.csrfToken()) + "&key=" + UUID.randomUUID() + "&answer="
                  + encoded(SAID.get(random.nextInt(SAID.size())))));
        }
      }
      // everybody's first answer, then everybody's second, and so on
      for (int position = 0; position < all.get(0).size(); position++) {
        for (List<String> answers : all) {
          requests.add(answers.get(position));
        }
      }
    }
  }

  private static Person add(PeopleStore people, String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.empty(), Optional.empty());
    return person;
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}

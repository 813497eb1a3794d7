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
import java.time.Duration;
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
import java.util.stream.Stream;

/**
 * Three hundred apprentices who answer at once, each in a sitting of their own, while two coordinators open their cohorts'
 * reports: answers a second, how long they take and what fails, as a ratio to a bare Javalin route that writes one row
 * into the same kind of database, in turn in the same run. Both servers are processes of their own; the load comes from
 * {@code wrk}, which has to be on the path.
 *
 * <p>On a machine that has other work too, go by the processor time of each request: all that the server's process took
 * while it was loaded, reports included, divided by the requests. What the compilers of its virtual machine took is told
 * apart (on Linux): much of a run as short as this one is theirs, and they rest once a server has run for a while.
 *
 * <p>Arguments: the database, {@code h2} or {@code postgres}, and the rounds (3 if absent).
 */
public final class AnsweringLoad {

  private static final int APPRENTICES = 300;
  private static final int LENGTH = Plan.LONGEST;
  private static final int COHORTS = 2;
  private static final Duration WARMING_UP = Duration.ofSeconds(60);
  private static final Duration ROUND = Duration.ofSeconds(20);
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
    load.fill(rounds + 1);
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
      Duration most = round == 0 ? WARMING_UP : ROUND;
      Load row = Load.of(folder, bare, rows, most).tell(name + ", bare row");
      try (Reports reports = new Reports(ferrule.port())) {
        Load answer = Load.of(folder, ferrule, answers, most).tell(name + ", answers");
        System.out.printf(
            Locale.ROOT, "%s: %.2f of the bare rate, %.1f times its processor time (%.1f without compiling); %s%n", name,
            answer.rate() / row.rate(), answer.micros(answer.busy.all()) / row.micros(row.busy.all()),
            answer.micros(answer.busy.own()) / row.micros(row.busy.own()), reports.tell());
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

  /** Processor time of a process: of all its threads, and of the compilers' among them. */
  private record Busy(Duration all, Duration compilers) {

    private static final Duration TICK = Duration.ofMillis(10);

    static Busy of(Process process) throws IOException {
      Duration compilers = Duration.ZERO;
      Path tasks = Path.of("/proc/" + process.pid() + "/task");
      if (Files.isDirectory(tasks)) {
        try (Stream<Path> each = Files.list(tasks)) {
          for (Path task : each.toList()) {
            compilers = compilers.plus(compiling(task));
          }
        }
      }
      return new Busy(process.info().totalCpuDuration().orElse(Duration.ZERO), compilers);
    }

    // "7 (C2 CompilerThre) S ..." with the ticks in user and system mode as the twelfth and thirteenth that follow
    private static Duration compiling(Path task) {
      try {
        String line = Files.readString(task.resolve("stat"));
        String[] fields = line.substring(line.lastIndexOf(')') + 2).split(" ");
        boolean compiles = line.contains("(C1 Compiler") || line.contains("(C2 Compiler");
        return compiles ? TICK.multipliedBy(Long.parseLong(fields[11]) + Long.parseLong(fields[12])) : Duration.ZERO;
      } catch (IOException e) {
        return Duration.ZERO; // the thread is over
      }
    }

    Busy since(Busy before) {
      return new Busy(all.minus(before.all), compilers.minus(before.compilers));
    }

    Duration own() {
      return all.minus(compilers);
    }
  }

  /** What {@code wrk} says of one load, and how busy the server was meanwhile. */
  private record Load(double seconds, String latencies, long sent, long failed, Busy busy) {

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

    static Load of(Path folder, Server server, Path lines, Duration most) throws Exception {
      Busy before = Busy.of(server.process());
      Path script = Files.writeString(folder.resolve("load.lua"), SCRIPT);
      Process wrk =
          new ProcessBuilder(
                  "wrk", "-t1", "-c" + APPRENTICES, "-d" + most.toSeconds() + "s", "--timeout", "60s", "-s", script.toString(),
                  "http://127.0.0.1:" + server.port(), "--", lines.toString())
              .redirectErrorStream(true).start();
      String said = new String(wrk.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      Matcher result = Pattern.compile("RESULT (\\S+) (\\d+) (\\d+) (.*)").matcher(said);
      if (!result.find()) {
        throw new IllegalStateException("wrk said: " + said);
      }
      return new Load(
          Double.parseDouble(result.group(1)), result.group(4), Long.parseLong(result.group(2)),
          Long.parseLong(result.group(3)), Busy.of(server.process()).since(before));
    }

    double rate() {
      return sent / seconds;
    }

    /** Of this time, for each request. */
    double micros(Duration time) {
      return time.toNanos() / 1e3 / sent;
    }

    Load tell(String what) {
      System.out.printf(
          Locale.ROOT, "%s: %.0f a second (%d), %s, %.0f us of processor time each (%.0f without compiling), %d failed%n",
          what, rate(), sent, latencies, micros(busy.all()), micros(busy.own()), failed);
      return this;
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

  /** Everybody's sittings, of one drill for each load. */
  private void fill(int loads) {
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
      List<List<Assignment>> assignments = new ArrayList<>();
      for (int c = 0; c < COHORTS; c++) {
        LocalDate start = LocalDate.now(ZoneOffset.UTC).minusMonths(2);
        Cohort cohort =
            new Cohort(UUID.randomUUID(), "Cohort " + c, books.programme().edition(), start, start.plusYears(1));
        people.add(cohort);
        cohorts.add(cohort.id());
        List<Assignment> set = new ArrayList<>();
        for (int load = 0; load < loads; load++) {
          set.add(new Assignment(
              UUID.randomUUID(), cohort.id(), Set.of(), instructor.id(), "All at once, " + load, plan,
              Conditions.dueOn(LocalDate.now(ZoneOffset.UTC).plusDays(7)), Instant.now(), Optional.empty()));
        }
        set.forEach(store.assignments()::add);
        assignments.add(set);
        coordinators.add(people.sessions().open(add(people, "coordinator" + c, Role.COORDINATOR).id(), OPENING));
      }
      List<Person> apprentices = new ArrayList<>();
      List<String> tokens = new ArrayList<>();
      for (int a = 0; a < APPRENTICES; a++) {
        Person apprentice = add(people, "apprentice" + a, Role.APPRENTICE);
        people.join(cohorts.get(a % COHORTS), apprentice.id(), LocalDate.now(ZoneOffset.UTC), Optional.empty());
        apprentices.add(apprentice);
        tokens.add(people.sessions().open(apprentice.id(), OPENING));
      }
      for (int load = 0; load < loads; load++) {
        List<List<String>> all = new ArrayList<>();
        for (int a = 0; a < APPRENTICES; a++) {
          Sitting sitting = drills.start(apprentices.get(a), assignments.get(a % COHORTS).get(load)).orElseThrow();
          SignedIn session = people.sessions().find(tokens.get(a)).orElseThrow();
          all.add(answers(sitting, tokens.get(a), session.csrfToken(), random));
        }
        // everybody's first answer, then everybody's second, and so on
        for (int position = 0; position < all.get(0).size(); position++) {
          for (List<String> answers : all) {
            requests.add(answers.get(position));
          }
        }
      }
    }
  }

  private static List<String> answers(Sitting sitting, String token, String csrf, Random random) {
    List<String> answers = new ArrayList<>();
    for (int position = 1; position <= sitting.items().size(); position++) {
      answers.add(String.join("\t", "/drill/" + sitting.id() + "/" + position, token,
          "csrf=" + encoded(csrf) + "&key=" + UUID.randomUUID() + "&answer="
              + encoded(SAID.get(random.nextInt(SAID.size())))));
    }
    return answers;
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

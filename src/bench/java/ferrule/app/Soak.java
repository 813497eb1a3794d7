package ferrule.app;

import com.sun.management.UnixOperatingSystemMXBean;
import ferrule.curriculum.Curriculum;
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
import java.io.BufferedReader;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.ToDoubleFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hipparchus.stat.regression.SimpleRegression;

/**
 * Whether a server that runs for days grows: the requests of school days of eight hours, one after another as fast as two
 * threads send them, against a server in a process of its own with a bounded heap. A day is 300 apprentices who practise
 * twice (12 items each time, and look at their record and the instrument), 10 instructors who grade and sign 15 pieces of
 * work each and look at their class, and 3 coordinators who look 10 times at cohorts, people, graders and files: some
 * 20,000 requests. Every few seconds the server collects its garbage and tells its live heap, open files and threads; the
 * straight line through the second half says how much each grows in a day, with the 95 % interval of its slope. (Samples
 * that depend on the one before make that interval somewhat too narrow.)
 *
 * <p>Arguments: the database, {@code h2} or {@code postgres}, and for how many seconds (600 if absent).
 */
public final class Soak {

  private static final int APPRENTICES = 300;
  private static final int INSTRUCTORS = 10;
  private static final int COORDINATORS = 3;
  private static final int ITEMS = 12;
  private static final int SIGNED_EACH = 15;
  private static final int SAMPLE_EVERY_SECONDS = 5;
  private static final Opening OPENING = Opening.by(Opening.How.PASSWORD, "a measurement");
  private static final Pattern HIDDEN = Pattern.compile("type=\"hidden\" name=\"([^\"]+)\" value=\"([^\"]*)\"");
  private static final Pattern PORT = Pattern.compile("at http://[^:]+:(\\d+)/");
  private static final String PIN = "2468";

  private final String url;
  private final List<Visitor> apprentices = new ArrayList<>();
  private final List<Visitor> instructors = new ArrayList<>();
  private final List<Visitor> coordinators = new ArrayList<>();
  private final List<UUID> cohorts = new ArrayList<>();
  private final HttpClient client = HttpClient.newHttpClient();
  private final AtomicLong requests = new AtomicLong();
  private final AtomicLong failures = new AtomicLong();
  private final AtomicLong stints = new AtomicLong();
  private int port;

  /** Who visits, and with which session. */
  private record Visitor(UUID id, String token, String csrf) {}

  /**
   * What the server told.
   *
   * @param days how many days' stints were done by then
   */
  private record Sample(double days, double heap, double files, double threads) {}

  /** The server, which tells of itself every few seconds. */
  static final class Watched {

    private Watched() {}

    /** Runs a command and tells. */
    public static void main(String[] args) {
      Thread teller = new Thread(Watched::tell, "teller");
      teller.setDaemon(true);
      teller.start();
      Ferrule.main(args);
    }

    private static void tell() {
      UnixOperatingSystemMXBean system = (UnixOperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();
      try {
        while (true) {
          Thread.sleep(SAMPLE_EVERY_SECONDS * 1_000L);
          System.gc();
          System.gc(); // what the first has only made ready
          System.out.println("SAMPLE " + ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() + " "
              + system.getOpenFileDescriptorCount() + " " + ManagementFactory.getThreadMXBean().getThreadCount());
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  private Soak(String url) {
    this.url = url;
  }

  /** Prints samples and what they say. */
  public static void main(String[] args) throws Exception {
    boolean postgres = args.length > 0 && args[0].equals("postgres");
    int seconds = args.length > 1 ? Integer.parseInt(args[1]) : 600;
    Path folder = Files.createTempDirectory("ferrule-soak");
    String url = postgres ? RealDatabases.emptyPostgres().jdbc() : DatabaseUrl.h2File(folder, "ferrule").jdbc();
    Soak soak = new Soak(url);
    soak.fill();
    soak.run(folder, seconds);
    System.exit(0);
  }

  // -- who comes

  private void fill() {
    Optional<String> user = url.startsWith("jdbc:postgresql") ? Optional.of("postgres") : Optional.empty();
    Books books = Books.read(Curriculum.bundled());
    try (Database database = Database.open(DatabaseUrl.parse(url), user, Optional.empty())) {
      DemoProgramme.fill(new Installation(books, database, HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC));
      PeopleStore people = new PeopleStore(database, Clock.systemUTC());
      LocalDate start = LocalDate.now(ZoneOffset.UTC).minusMonths(2);
      for (int c = 0; c < 10; c++) {
        Cohort cohort = new Cohort(UUID.randomUUID(), "Cohort " + c, books.programme().edition(), start, start.plusYears(1));
        people.add(cohort);
        cohorts.add(cohort.id());
      }
      for (int a = 0; a < APPRENTICES; a++) {
        Visitor apprentice = add(people, "apprentice" + a, Role.APPRENTICE);
        people.join(cohorts.get(a % cohorts.size()), apprentice.id(), start, Optional.empty());
        apprentices.add(apprentice);
      }
      for (int i = 0; i < INSTRUCTORS; i++) {
        instructors.add(add(people, "instructor" + i, Role.INSTRUCTOR));
      }
      for (int c = 0; c < COORDINATORS; c++) {
        coordinators.add(add(people, "coordinator" + c, Role.COORDINATOR));
      }
    }
  }

  private static Visitor add(PeopleStore people, String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.empty(), role == Role.INSTRUCTOR ? Optional.of(PIN) : Optional.empty());
    String token = people.sessions().open(person.id(), OPENING);
    SignedIn session = people.sessions().find(token).orElseThrow();
    return new Visitor(person.id(), token, session.csrfToken());
  }

  // -- the days

  private void run(Path folder, int seconds) throws Exception {
    List<String> command = new ArrayList<>(List.of(
        Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-Xmx400m", "-cp",
        System.getProperty("java.class.path"), Watched.class.getName(), "serve", "--port", "0", "--data", folder + "",
        "--db", url));
    if (url.startsWith("jdbc:postgresql")) {
      command.addAll(List.of("--db-user", "postgres"));
    }
    Process server = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    List<Sample> samples = Collections.synchronizedList(new ArrayList<>());
    BufferedReader said = server.inputReader();
    for (String line = said.readLine(); port == 0; line = said.readLine()) {
      Matcher open = PORT.matcher(line);
      port = open.find() ? Integer.parseInt(open.group(1)) : 0;
    }
    Thread listener = new Thread(() -> listen(said, samples), "listener");
    listener.start();
    long until = System.nanoTime() + seconds * 1_000_000_000L;
    List<Thread> threads = new ArrayList<>();
    for (int t = 0; t < 2; t++) {
      Random random = new Random(20261126 + t);
      threads.add(new Thread(() -> days(random, until), "visitors"));
    }
    threads.forEach(Thread::start);
    for (Thread thread : threads) {
      thread.join();
    }
    tell(samples, seconds);
    server.destroy();
    System.out.println("the server stopped with " + server.waitFor());
  }

  private void listen(BufferedReader said, List<Sample> samples) {
    try {
      for (String line = said.readLine(); line != null; line = said.readLine()) {
        if (line.startsWith("SAMPLE ")) {
          String[] told = line.split(" ");
          Sample sample = new Sample(
              stints.get() / (double) stintsOfADay(), Long.parseLong(told[1]) / 1e6, Long.parseLong(told[2]),
              Long.parseLong(told[3]));
          samples.add(sample);
          if (samples.size() % 6 == 0) {
            System.out.printf(Locale.ROOT, "day %.2f: %.1f MB, %.0f files, %.0f threads; %d requests, %d failed%n",
                sample.days(), sample.heap(), sample.files(), sample.threads(), requests.get(), failures.get());
          }
        }
      }
    } catch (IOException e) {
      System.out.println("the server says no more: " + e.getMessage());
    }
  }

  private static int stintsOfADay() {
    return APPRENTICES * 2 + INSTRUCTORS * SIGNED_EACH + INSTRUCTORS + COORDINATORS * 10;
  }

  /** Stints of everybody in a mixed order, in the proportions of a day, until it is time. */
  private void days(Random random, long until) {
    while (System.nanoTime() < until) {
      int stint = random.nextInt(stintsOfADay());
      try {
        if (stint < APPRENTICES * 2) {
          practise(pick(apprentices, random), random);
        } else if (stint < APPRENTICES * 2 + INSTRUCTORS * SIGNED_EACH) {
          grade(pick(instructors, random), pick(apprentices, random), random);
        } else if (stint < APPRENTICES * 2 + INSTRUCTORS * SIGNED_EACH + INSTRUCTORS) {
          look(pick(instructors, random), List.of("/class", "/bench", "/bench-over-time", "/class/rulings", "/hours"));
        } else {
          UUID cohort = pick(cohorts, random);
          look(pick(coordinators, random), List.of(
              "/cohorts", "/cohorts/" + cohort, "/cohorts/" + cohort + "/over-time", "/cohorts/" + cohort + "/questions",
              "/cohorts/" + cohort + "/competencies.xlsx", "/cohorts/" + cohort + "/competencies.pdf", "/people",
              "/graders", "/cohorts.csv", "/bundles"));
        }
        stints.incrementAndGet();
      } catch (IOException | IllegalStateException e) {
        failures.incrementAndGet();
        System.out.println(e.getMessage());
      } catch (InterruptedException e) {
        return;
      }
    }
  }

  private static <T> T pick(List<T> some, Random random) {
    return some.get(random.nextInt(some.size()));
  }

  private void practise(Visitor who, Random random) throws IOException, InterruptedException {
    look(who, List.of("/practise"));
    String sitting = post(who, "/practise/self-test", Map.of("assembly", "", "kind", "name", "length", ITEMS + ""))
        .headers().firstValue("Location").orElseThrow();
    for (int i = 1; i <= ITEMS; i++) {
      Map<String, String> answer = hidden(get(who, sitting + "/" + i).body());
      answer.put("answer", random.nextBoolean() ? "third slide crook" : "first slide crook");
      post(who, sitting + "/" + i, answer);
    }
    look(who, List.of(sitting + "/result", "/record", "/instrument", "/instrument/third-slide-crook"));
  }

  private void grade(Visitor who, Visitor apprentice, Random random) throws IOException, InterruptedException {
    look(who, List.of("/bench"));
    String draft = post(who, "/bench/drafts", Map.of(
        "apprentice", apprentice.id().toString(), "task", "water-key-cork-or-pad", "tag", "T-07"))
        .headers().firstValue("Location").orElseThrow();
    post(who, draft + "/cautions", Map.of());
    Map<String, String> entries = new HashMap<>(Map.of(
        "level.cup-clean", "3", "level.fit-in-cup", "4", "level.seat", "4", "level.seal", "2", "level.spring", "4",
        "lower.opening", "2", "upper.opening", "4", "reading.opening", "2." + random.nextInt(10)));
    for (int tap = 0; tap < 6; tap++) {
      post(who, draft + "/keep", entries);
    }
    entries.put("go", "review");
    post(who, draft, entries);
    Map<String, String> shown = hidden(get(who, draft + "/review").body());
    shown.putAll(Map.of("pin", PIN, "another", "yes"));
    look(who, List.of(post(who, draft + "/sign", shown).headers().firstValue("Location").orElseThrow()));
  }

  private void look(Visitor who, List<String> paths) throws IOException, InterruptedException {
    for (String path : paths) {
      get(who, path);
    }
  }

  private static Map<String, String> hidden(String page) {
    Map<String, String> fields = new HashMap<>();
    Matcher field = HIDDEN.matcher(page);
    while (field.find()) {
      fields.putIfAbsent(field.group(1), field.group(2));
    }
    return fields;
  }

  private HttpResponse<String> get(Visitor who, String path) throws IOException, InterruptedException {
    return send(who, path, HttpRequest.newBuilder().GET());
  }

  private HttpResponse<String> post(Visitor who, String path, Map<String, String> fields)
      throws IOException, InterruptedException {
    StringBuilder body = new StringBuilder("csrf=" + encoded(who.csrf()));
    fields.forEach((name, value) -> {
      if (!name.equals("csrf")) {
        body.append('&').append(encoded(name)).append('=').append(encoded(value));
      }
    });
    return send(who, path, HttpRequest.newBuilder().header("Content-Type", "application/x-www-form-urlencoded")
        .POST(HttpRequest.BodyPublishers.ofString(body.toString())));
  }

  private HttpResponse<String> send(Visitor who, String path, HttpRequest.Builder request)
      throws IOException, InterruptedException {
    URI to = URI.create("http://127.0.0.1:" + port).resolve(path);
    HttpResponse<String> answer = client.send(
        request.uri(to).header("Cookie", "ferrule_session=" + who.token()).build(), HttpResponse.BodyHandlers.ofString());
    requests.incrementAndGet();
    if (answer.statusCode() >= 400) {
      throw new IllegalStateException(path + " answered " + answer.statusCode());
    }
    return answer;
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  // -- what it says

  private void tell(List<Sample> samples, int seconds) {
    if (samples.size() < 10) {
      System.out.println("too short for a line: " + samples.size() + " samples");
      return;
    }
    List<Sample> half = samples.subList(samples.size() / 2, samples.size());
    System.out.printf(Locale.ROOT,
        "%s: %d requests in %d s, %d failed: %.2f days of eight hours (%d requests each); %d samples in the second half%n",
        url.replaceFirst("^(jdbc:[a-z0-9]+).*", "$1"), requests.get(), seconds, failures.get(),
        stints.get() / (double) stintsOfADay(), requests.get() * stintsOfADay() / Math.max(1, stints.get()), half.size());
    tell("live heap, MB", half, Sample::heap);
    tell("open files", half, Sample::files);
    tell("threads", half, Sample::threads);
  }

  private static void tell(String what, List<Sample> samples, ToDoubleFunction<Sample> figure) {
    SimpleRegression line = new SimpleRegression();
    samples.forEach(s -> line.addData(s.days(), figure.applyAsDouble(s)));
    double width = line.getSlopeConfidenceInterval();
    double mean = samples.stream().mapToDouble(figure).average().orElseThrow();
    boolean grows = line.getSlope() - width > 0;
    System.out.printf(Locale.ROOT, "%s: %.1f on average, %+.3f a day (95 %%: %+.3f to %+.3f): %s%n", what, mean,
        line.getSlope(), line.getSlope() - width, line.getSlope() + width,
        grows ? "it grows" : "no growth beyond noise");
  }
}

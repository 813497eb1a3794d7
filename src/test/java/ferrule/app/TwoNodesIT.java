package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import ferrule.curriculum.Curriculum;
import ferrule.drill.DrillStore;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.LogCheck;
import ferrule.ledger.Statement;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.DatabaseProbe;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import ferrule.upkeep.NodeWatch;
import ferrule.web.Browser;
import ferrule.web.HandClock;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two nodes over one PostgreSQL, a plain proxy in front without sticky sessions, and a database that goes away. */
class TwoNodesIT {

  private static final Optional<String> USER = Optional.of("postgres");

  @TempDir static Path folder;

  private static Books books;

  @BeforeAll
  static void read() {
    books = Books.read(Curriculum.bundled());
  }

  /** One node, watched, over a database. */
  private record Running(Campus campus, DatabaseProbe probe, NodeWatch watch, WebServer server) implements AutoCloseable {

    static Running over(DatabaseUrl url, HeadSigner signer, Clock clock) {
      Database database = Database.open(url, USER, Optional.empty());
      Campus campus = new Campus(books, database, site -> signer, clock, ZoneOffset.UTC);
      DatabaseProbe probe = new DatabaseProbe(url, USER, Optional.empty());
      NodeWatch watch = new NodeWatch(probe::trouble, served -> {});
      WebServer server = campus.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS), watch);
      return new Running(campus, probe, watch, server);
    }

    @Override
    public void close() {
      server.close();
      watch.close();
      probe.close();
      campus.close();
    }
  }

  /** Hands requests to the nodes in turn, whoever sends them: no session sticks to a node. */
  private static final class Proxy implements AutoCloseable {

    private static final Set<String> NOT_PASSED_ON =
        Set.of("connection", "content-length", "transfer-encoding", "host", "upgrade", "http2-settings");

    private final HttpServer server;
    private final HttpClient client =
        HttpClient.newBuilder().followRedirects(HttpClient.Redirect.NEVER).version(HttpClient.Version.HTTP_1_1).build();
    private final List<Integer> ports;
    private final AtomicInteger turn = new AtomicInteger();
    final Map<Integer, AtomicInteger> served = new HashMap<>();

    Proxy(List<Integer> ports) throws IOException {
      this.ports = ports;
      ports.forEach(port -> served.put(port, new AtomicInteger()));
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
      server.setExecutor(Executors.newFixedThreadPool(4));
      server.createContext("/", this::pass);
      server.start();
    }

    int port() {
      return server.getAddress().getPort();
    }

    private void pass(HttpExchange exchange) throws IOException {
      int port = ports.get(turn.getAndIncrement() % ports.size());
      served.get(port).incrementAndGet();
      HttpRequest.Builder request = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + exchange.getRequestURI()))
          .method(exchange.getRequestMethod(),
              HttpRequest.BodyPublishers.ofByteArray(exchange.getRequestBody().readAllBytes()));
      exchange.getRequestHeaders().forEach((name, values) -> {
        if (!NOT_PASSED_ON.contains(name.toLowerCase(Locale.ROOT))) {
          values.forEach(value -> request.header(name, value));
        }
      });
      try (exchange) {
        HttpResponse<byte[]> answer = client.send(request.build(), HttpResponse.BodyHandlers.ofByteArray());
        answer.headers().map().forEach((name, values) -> {
          if (!NOT_PASSED_ON.contains(name.toLowerCase(Locale.ROOT))) {
            values.forEach(value -> exchange.getResponseHeaders().add(name, value));
          }
        });
        exchange.sendResponseHeaders(answer.statusCode(), answer.body().length == 0 ? -1 : answer.body().length);
        exchange.getResponseBody().write(answer.body());
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }

    @Override
    public void close() {
      server.stop(0);
      ((ExecutorService) server.getExecutor()).shutdownNow();
    }
  }

  @Test
  void twoNodesThatMakeTheTablesAtOnceTakeTurns() {
    for (int round = 0; round < 3; round++) {
      DatabaseUrl url = RealDatabases.emptyPostgres();
      HeadSigner signer = HeadSigner.passing();
      List<CompletableFuture<Running>> starting = new ArrayList<>();
      for (int node = 0; node < 2; node++) {
        starting.add(CompletableFuture.supplyAsync(() -> Running.over(url, signer, Clock.systemUTC())));
      }
      for (CompletableFuture<Running> node : starting) {
        try (Running running = node.join()) {
          assertEquals(200, new Browser(running.server().port()).get("/health/ready").status());
          int twice = running.campus().first().database().dsl().fetchOne(
              "select count(*) - count(distinct \"version\") from \"flyway_schema_history\" where \"version\" is not null")
              .get(0, Integer.class);
          assertEquals(0, twice, "each migration ran once");
        }
      }
    }
  }

  @Test
  void aDrillIsTakenAndWatchedOverBothNodesAlternately() throws IOException {
    DatabaseUrl url = RealDatabases.emptyPostgres();
    HeadSigner signer = HeadSigner.passing();
    try (Running one = Running.over(url, signer, Clock.systemUTC())) {
      DemoProgramme.fill(one.campus().first());
      try (Running two = Running.over(url, signer, Clock.systemUTC());
          Proxy proxy = new Proxy(List.of(one.server().port(), two.server().port()))) {
        Browser isolde = new Browser(proxy.port());
        Browser wren = new Browser(proxy.port());
        assertEquals(303, isolde.signIn("isolde", "brass lantern", "/").status());
        assertEquals(303, wren.signIn("wren", "copper kettle", "/").status());
        Map<String, String> form = new HashMap<>(Map.of(
            "csrf", isolde.get("/class/drills/new").hidden("csrf"), "assembly", "third-slide-assembly", "kind", "name",
            "length", "6", "cohort", DemoProgramme.id("first year").toString(),
            "due", LocalDate.now(ZoneOffset.UTC).plusDays(2).toString(), "late", "yes", "attempts", "1",
            "title", "Over two nodes"));
        Browser.Answer set = isolde.post("/class/drills", form);
        assertEquals(303, set.status(), set.body());
        var drills = new DrillStore(two.campus().first().database());
        var assignment = drills.assignments().standing().stream()
            .filter(a -> a.title().equals("Over two nodes")).findFirst().orElseThrow();
        Browser.Answer start = wren.post(
            "/practise/drills/" + assignment.id(), Map.of("csrf", wren.get("/practise").hidden("csrf")));
        assertEquals(303, start.status(), start.body());
        String sitting = start.location();
        for (int position = 1; position <= 3; position++) {
          String path = sitting + "/" + position;
          String csrf = wren.get(path).hidden("csrf");
          assertEquals(303, wren.post(path, Map.of("csrf", csrf, "answer", "spanner")).status());
          // both nodes tell at once what was answered at either
          for (int look = 0; look < 2; look++) {
            String progress = isolde.get("/class/drills/" + assignment.id() + "/progress").body();
            assertTrue(progress.contains(position + " of 6"), progress);
          }
        }
        proxy.served.values().forEach(count -> assertTrue(count.get() >= 8, proxy.served.toString()));
        String csrf = wren.get("/practise").hidden("csrf");
        assertEquals("/sign-in", wren.post("/sign-out", Map.of("csrf", csrf)).location());
        assertEquals(303, wren.get("/practise").status(), "signed out at one node is signed out at both");
        assertEquals(303, wren.get("/practise").status());
      }
    }
  }

  @Test
  void aDatabaseThatIsGoneForHalfAMinuteLosesNothingAndIsTakenUpAgain() throws Exception {
    Path data = folder.resolve("postgres");
    EmbeddedPostgres postgres = EmbeddedPostgres.builder().setDataDirectory(data).setCleanDataDirectory(false).start();
    int port = postgres.getPort();
    DatabaseUrl url = DatabaseUrl.parse("jdbc:postgresql://localhost:" + port + "/postgres");
    try (Running node = Running.over(url, HeadSigner.passing(), Clock.systemUTC())) {
      instructor(node);
      Browser isolde = new Browser(node.server().port());
      assertEquals(303, isolde.signIn("isolde", "brass lantern", "/").status());
      String csrf = isolde.get("/bench/instruments").hidden("csrf");
      List<String> acknowledged = new ArrayList<>();
      for (int i = 0; i < 20; i++) {
        assertEquals(303, add(isolde, csrf, "before-" + i).status());
        acknowledged.add("before-" + i);
      }
      postgres.close();
      Instant gone = Instant.now();
      int refused = 0;
      Duration slowest = Duration.ZERO;
      while (Instant.now().isBefore(gone.plusSeconds(30))) {
        Instant asked = Instant.now();
        Browser.Answer answer = add(isolde, csrf, "while-" + refused);
        Duration took = Duration.between(asked, Instant.now());
        slowest = took.compareTo(slowest) > 0 ? took : slowest;
        assertEquals(503, answer.status(), answer.body());
        assertTrue(answer.body().contains("The database cannot be reached just now"), answer.body());
        assertEquals("10", answer.header("Retry-After"));
        refused++;
        Thread.sleep(500);
      }
      assertTrue(refused >= 10 && slowest.compareTo(Duration.ofSeconds(10)) < 0, refused + ", " + slowest);
      assertEquals(503, isolde.get("/health/ready").status());
      assertEquals(200, isolde.get("/health/live").status());
      assertEquals(200, isolde.get("/static/ferrule.css").status());
      postgres = EmbeddedPostgres.builder().setDataDirectory(data).setCleanDataDirectory(false).setPort(port).start();
      Instant back = Instant.now();
      while (isolde.get("/health/ready").status() != 200 && Instant.now().isBefore(back.plusSeconds(30))) {
        Thread.sleep(200);
      }
      Duration recovered = Duration.between(back, Instant.now());
      assertEquals(303, add(isolde, csrf, "after").status(), "the session is still good");
      acknowledged.add("after");
      String page = isolde.get("/bench/instruments").body();
      acknowledged.forEach(tag -> assertTrue(page.contains(tag), tag + " was acknowledged"));
      assertTrue(!page.contains("while-"), "what was refused was not kept");
      System.out.println(refused + " requests refused in 30 s, the slowest after " + slowest.toMillis()
          + " ms; ready again " + recovered.toMillis() + " ms after the database");
    } finally {
      postgres.close();
    }
  }

  private static Browser.Answer add(Browser browser, String csrf, String tag) {
    return browser.post(
        "/bench/instruments", Map.of("csrf", csrf, "tag", tag, "description", "invented", "kind", "trumpet"));
  }

  @Test
  void aClockThatIsSetBackLosesNothingAndTheLogStaysInOrder() {
    DatabaseUrl url = RealDatabases.emptyPostgres();
    HandClock clock = new HandClock(Instant.now());
    try (Running node = Running.over(url, HeadSigner.passing(), clock)) {
      instructor(node);
      long size = node.campus().first().ledger().head().size();
      Browser isolde = new Browser(node.server().port());
      assertEquals(303, isolde.signIn("isolde", "brass lantern", "/").status());
      assertEquals(200, isolde.get("/bench").status());
      say(node, clock);
      Instant last = node.campus().first().ledger().lastAt().orElseThrow();
      clock.pass(Duration.ofDays(-1));
      assertEquals(200, isolde.get("/bench").status(), "the session goes on");
      assertEquals(303, add(isolde, isolde.get("/bench/instruments").hidden("csrf"), "yesterday").status());
      say(node, clock);
      assertEquals(size + 2, node.campus().first().ledger().head().size());
      assertEquals(last, node.campus().first().ledger().lastAt().orElseThrow(), "the log's times never run backward");
      assertTrue(node.campus().first().ledger().check(Optional.empty()) instanceof LogCheck.Sound);
    }
  }

  private static void instructor(Running node) {
    node.campus().first().people().add(
        new Person(UUID.randomUUID(), "isolde", "Invented Isolde", Role.INSTRUCTOR, Optional.empty()),
        Optional.of("brass lantern"), Optional.empty());
  }

  /** Something is said for good, at the time of this clock. */
  private static void say(Running node, Clock clock) {
    Database database = node.campus().first().database();
    database.transact(dsl -> node.campus().first().ledger().append(
        dsl, clock.instant(), at -> Statement.begin("note", UUID.randomUUID(), UUID.randomUUID(), "Invented Hand", at)));
  }
}

package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import ferrule.upkeep.Address;
import ferrule.upkeep.Copies;
import ferrule.upkeep.OldRows;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.GZIPInputStream;
import org.flywaydb.core.api.MigrationVersion;
import org.h2.tools.RunScript;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Databases that older programs left, brought up to date. Each dump was left by the program of its day, which filled in its
 * demo programme and was used a little ({@code upgrade/README.txt} says how). Migrations came into the program in another
 * order than their numbers say, so a database of its day can lack one that is below its last.
 */
class UpgradeIT {

  private static final Books BOOKS = Books.read(Curriculum.bundled());
  private static final WebConfig WEB = new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS);
  private static final int OF_A_PATTERN = 2;
  private static final Pattern LINK = Pattern.compile("<a\\b[^>]*\\bhref=\"(/[^\"#]*)");
  /** What V041 gave another name; the log's hashes hold what is in it. */
  private static final Set<String> RENAMED = Set.of("apprentice_id", "subject_id");

  /** The tables after every migration, which are the same wherever one began. */
  private static final Map<Engine, OldRows.Schema> NEWEST = new EnumMap<>(Engine.class);

  @TempDir Path folder;

  /** The dumps, in the order in which the programs were made. */
  enum Dump {
    A_TO_V020, B_TO_V020_WITH_V011, C_TO_V042, D_TO_V044, E_TO_V062_WITH_GAPS, F_TO_V062_BUT_V047, G_TO_V066;

    private static final Map<Dump, DatabaseUrl> LOADED = new HashMap<>();

    /** A fresh database with it. */
    DatabaseUrl load() {
      DatabaseUrl url = DatabaseUrl.h2Memory("upgrade" + UUID.randomUUID());
      String name = "upgrade/" + name().toLowerCase(java.util.Locale.ROOT).replace('_', '-') + ".sql.gz";
      try (Connection connection = connect(url);
          var script = new InputStreamReader(
              new GZIPInputStream(UpgradeIT.class.getResourceAsStream(name)), StandardCharsets.UTF_8)) {
        RunScript.execute(connection, script);
      } catch (IOException | SQLException e) {
        throw new IllegalStateException("the dump " + name + " cannot be loaded", e);
      }
      return url;
    }

    /** A database with it that is only read. */
    DatabaseUrl untouched() {
      return LOADED.computeIfAbsent(this, Dump::load);
    }

    /** The migrations that the program of its day had run. */
    Set<String> migrations() throws SQLException {
      try (Connection connection = connect(untouched())) {
        return UpgradeIT.migrations(connection);
      }
    }
  }

  /** A sort of database. */
  enum Engine {
    H2, POSTGRESQL;

    DatabaseUrl empty() {
      return this == H2 ? DatabaseUrl.h2Memory("step" + UUID.randomUUID()) : RealDatabases.emptyPostgres();
    }
  }

  private static Optional<String> user(DatabaseUrl url) {
    return url.jdbc().startsWith("jdbc:postgresql") ? Optional.of("postgres") : Optional.empty();
  }

  private static Connection connect(DatabaseUrl url) throws SQLException {
    return DriverManager.getConnection(url.jdbc(), user(url).orElse(""), "");
  }

  private static Database open(DatabaseUrl url) {
    return Database.open(url, user(url), Optional.empty());
  }

  private static Set<String> migrations(Connection connection) throws SQLException {
    Set<String> versions = new TreeSet<>((a, b) -> MigrationVersion.fromVersion(a).compareTo(MigrationVersion.fromVersion(b)));
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(
            "select \"version\" from \"flyway_schema_history\" where \"version\" is not null and \"success\"")) {
      while (rows.next()) {
        versions.add(rows.getString(1));
      }
    }
    return versions;
  }

  /** All migrations of this program, in order. */
  private static List<String> ladder() throws SQLException {
    DatabaseUrl newest = DatabaseUrl.h2Memory("newest" + UUID.randomUUID());
    open(newest).close();
    try (Connection connection = connect(newest)) {
      return List.copyOf(migrations(connection));
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatAnOlderProgramLeftIsAllThereAndIsServed(Dump dump) throws SQLException, IOException {
    DatabaseUrl url = dump.load();
    OldRows old = rows(url);
    assertTrue(old.count("person") > 25 && old.count("drill_response") > 500 && old.count("record_log") > 100,
        dump + " has something to lose: " + old.sums());
    try (Installation upgraded =
        new Installation(BOOKS, open(url), HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC)) {
      expectSame(old, Engine.H2, url);
      expectSound(url, old.count("record_log"));
      try (WebServer server = upgraded.serve(WEB)) {
        int pages = read("wren", "copper kettle", server) + read("isolde", "brass lantern", server)
            + read("magnus", "river ledger", server);
        System.out.println(dump + " " + dump.migrations() + ": " + old.count("person") + " people, "
            + old.count("drill_response") + " answers, " + old.count("record_log") + " records; " + pages + " pages read");
        goOn(server);
      }
      Path file = folder.resolve("upgraded.zip");
      String made = new Backups(new Address(url, user(url), Optional.empty()), Optional.empty()).make(file, true);
      assertTrue(made.contains("none altered, removed or inserted"), made);
    }
  }

  @ParameterizedTest
  @EnumSource
  void everyStepOfTheLadderIsClimbedWithRows(Engine engine) throws SQLException {
    List<String> ladder = ladder();
    Map<String, Dump> from = new TreeMap<>();
    for (String step : ladder) {
      Dump dump = nearest(Set.copyOf(ladder.subList(0, ladder.indexOf(step) + 1)));
      from.put(step, dump);
      DatabaseUrl url = engine.empty();
      Database.migrateTo(url, user(url), Optional.empty(), Optional.empty(), step);
      OldRows old = copy(dump, url);
      assertTrue(old.count("person") > 25, step + " has something to lose");
      expectSound(url, old.sums().containsKey("record_log") ? old.count("record_log") : 0);
      expectSame(old, engine, url);
    }
    System.out.println(engine + " climbed from " + from);
  }

  /** Puts what is in a dump into a database with tables that may be newer, and returns what is there then. */
  private static OldRows copy(Dump dump, DatabaseUrl url) throws SQLException {
    try (Connection source = connect(dump.untouched()); Connection target = connect(url)) {
      boolean renamed = migrations(target).contains("041") && !dump.migrations().contains("041");
      if (renamed) {
        source.createStatement().execute("alter table record_log rename column apprentice_id to subject_id");
      }
      OldRows.Schema schema = OldRows.Schema.of(target);
      OldRows.copy(source, OldRows.Schema.of(source), target, schema);
      if (renamed) {
        source.createStatement().execute("alter table record_log rename column subject_id to apprentice_id");
      }
      return OldRows.in(target, schema, RENAMED);
    }
  }

  /** The newest dump whose tables are all there after these migrations, else the oldest. */
  private static Dump nearest(Set<String> migrations) throws SQLException {
    Dump nearest = Dump.values()[0];
    for (Dump dump : Dump.values()) {
      if (migrations.containsAll(dump.migrations())) {
        nearest = dump;
      }
    }
    return nearest;
  }

  private static OldRows rows(DatabaseUrl url) throws SQLException {
    try (Connection connection = connect(url)) {
      return OldRows.in(connection, OldRows.Schema.of(connection), RENAMED);
    }
  }

  private static OldRows.Schema newest(Engine engine, Connection connection) throws SQLException {
    OldRows.Schema newest = NEWEST.get(engine);
    if (newest == null) {
      newest = OldRows.Schema.of(connection);
      NEWEST.put(engine, newest);
    }
    return newest;
  }

  private static void expectSame(OldRows old, Engine engine, DatabaseUrl url) throws SQLException {
    try (Connection connection = connect(url)) {
      OldRows now = old.now(connection, newest(engine, connection));
      Map<String, String> expected = new TreeMap<>(old.sums());
      Map<String, String> found = new TreeMap<>(now.sums());
      // V033.1 has what is known made anew from the answers, V062 has more counters of rulings
      for (String kept : List.of("known_through", "drill_rulings_made")) {
        expected.remove(kept);
        found.remove(kept);
      }
      assertEquals(expected, found, "the rows are what they were");
    }
  }

  private static void expectSound(DatabaseUrl url, long records) {
    assertEquals(
        List.of("site main: " + records + " signed records, none altered, removed or inserted"),
        RecordCheck.everySite(new Address(url, user(url), Optional.empty())));
  }

  /** Reads what a person reaches by links in two steps, of each sort two; returns how many pages. */
  private static int read(String name, String password, WebServer server) {
    Browser browser = new Browser(server.port());
    assertEquals(303, browser.signIn(name, password, "/").status(), name + " comes in as before");
    String home = browser.get("/").location().replaceFirst("^http://[^/]+", "");
    Deque<String> next = new ArrayDeque<>(List.of(home));
    Set<String> known = new HashSet<>(next);
    Map<String, Integer> seen = new HashMap<>();
    List<String> faults = new ArrayList<>();
    int pages = 0;
    while (!next.isEmpty()) {
      String path = next.remove();
      if (seen.merge(pattern(path), 1, Integer::sum) > OF_A_PATTERN) {
        continue;
      }
      Browser.Answer answer = browser.get(path);
      pages++;
      String led = answer.location().replaceFirst("^http://[^/]+", "");
      if (answer.status() == 303 && !led.startsWith("/sign-in")) {
        if (known.add(led)) {
          next.add(led);
        }
      } else if (answer.status() != 200) {
        faults.add(path + " " + answer.status());
      }
      Matcher link = LINK.matcher(answer.body());
      while (link.find()) {
        String to = link.group(1).replace("&amp;", "&");
        if (!to.matches("/(instrument|procedures|at)/.*|.*\\.(csv|xlsx|pdf|json|jsonl|patch)(\\?.*)?") && known.add(to)) {
          next.add(to);
        }
      }
    }
    assertEquals(List.of(), faults, "pages that " + name + " reaches");
    return pages;
  }

  private static String pattern(String path) {
    return path.replaceAll("[0-9a-f]{8}-[0-9a-f-]{27}", "{id}").replaceAll("/[0-9a-f]{12}\\b", "/{edition}")
        .replaceAll("/questions/[a-z0-9-]+", "/questions/{part}").replaceAll("\\?.*", "?");
  }

  private static void goOn(WebServer server) {
    Browser isolde = new Browser(server.port());
    isolde.signIn("isolde", "brass lantern", "/");
    String csrf = isolde.get("/bench/instruments").hidden("csrf");
    assertEquals(303, isolde.post("/bench/instruments",
        Map.of("csrf", csrf, "tag", "after-1", "description", "invented", "kind", "trumpet")).status());
    assertTrue(isolde.get("/bench/instruments").body().contains("after-1"));
  }
}

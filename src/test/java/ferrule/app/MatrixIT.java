package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SchoolProvider;
import ferrule.people.SignedIn;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Access;
import ferrule.web.Operations;
import ferrule.web.OnlyOwn;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import ferrule.web.WebServer.Route;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jooq.Record;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/**
 * Every route that the router knows, against every role and nobody, with the things of one's own, of another person and of
 * another site. Who may open a route is written down apart from the code in {@code who-may-open.txt}: a route that is not
 * there, or that says otherwise, fails. The demo programme is one of two sites; the other has one person of each role, who
 * asks there for everything that the demo has.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class MatrixIT {

  private static final Site DEMO = new Site("demo", "Demo");
  private static final HttpClient CLIENT = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private static final String VISITOR_SECRET = "the secret of a browser that nobody has signed in with";

  private static Campus campus;
  private static WebServer server;
  private static ThingsInPaths things;
  private static List<Line> lines;

  /**
   * A line of the list.
   *
   * @param who roles in the words of the list; a star after one: only what is theirs
   */
  private record Line(String method, String path, Set<String> who) {

    static Line parse(String line) {
      String[] words = line.strip().split("\\s+");
      return new Line(words[0], words[1], new TreeSet<>(Arrays.asList(words).subList(2, words.length)));
    }

    static Line of(Route route) {
      Set<String> who = new TreeSet<>();
      for (Access access : Access.values()) {
        if (route.who().contains(access)) {
          boolean own = route.who().stream().anyMatch(r -> r instanceof OnlyOwn o && o.role().name().equals(access.name()));
          who.add(access.name().toLowerCase(java.util.Locale.ROOT) + (own ? "*" : ""));
        }
      }
      // "signed_in" with somebody bound to their own is each role, one of them with a star
      if (who.remove("signed_in")) {
        for (Role role : Role.values()) {
          boolean own = route.who().stream().anyMatch(r -> r instanceof OnlyOwn o && o.role() == role);
          who.add(role.word() + (own ? "*" : ""));
        }
      }
      return new Line(route.method(), route.path(), who);
    }

    boolean isOpen() {
      return who.contains("anyone");
    }

    boolean admits(Role role) {
      return isOpen() || who.contains(role.word()) || isOwn(role);
    }

    boolean isOwn(Role role) {
      return who.contains(role.word() + "*");
    }

    @Override
    public String toString() {
      return method + " " + path + " " + String.join(" ", who);
    }
  }

  /** Who asks: at which site, with which session; nobody without one. */
  private record Caller(String site, Optional<String> token, String secret, String words) {

    static Caller of(Installation at, Site site, Person person) {
      PeopleStore people = at.people();
      String token = people.sessions().open(person.id(), Opening.by(Opening.How.PASSWORD, "a test"));
      SignedIn session = people.sessions().find(token).orElseThrow();
      return new Caller(site.name(), Optional.of(token), session.csrfToken(), person.fullName());
    }

    static Caller nobody(Site site) {
      return new Caller(site.name(), Optional.empty(), VISITOR_SECRET, "nobody");
    }

    String cookies() {
      String suffix = site.equals(Site.FIRST) ? "" : "_" + site;
      return "ferrule_site=" + site + token.map(t -> "; ferrule_session" + suffix + "=" + t).orElse("")
          + "; ferrule_visitor" + suffix + "=" + URLEncoder.encode(VISITOR_SECRET, StandardCharsets.UTF_8);
    }
  }

  @BeforeAll
  static void open() throws IOException {
    Database database = RealDatabases.h2();
    campus = new Campus(
        Books.read(Curriculum.bundled()), database, site -> HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    new SiteStore(database, Clock.systemUTC()).add(DEMO);
    DemoProgramme.fill(demo());
    for (Role role : Role.values()) {
      campus.first().people().add(
          new Person(UUID.randomUUID(), role.word(), "Outside " + role.word(), role, Optional.empty()), Optional.empty(),
          Optional.empty());
    }
    // a provider that never answers, so that its routes are there
    SchoolProvider school = new SchoolProvider(
        URI.create("http://localhost:1"), "ferrule", Optional.empty(), "school account", Optional.empty());
    server = campus.serve(
        new WebConfig("127.0.0.1", 0, false, List.of(), Optional.of(school)), Operations.UNWATCHED);
    things = new ThingsInPaths(DEMO, demo());
    String drill = things.path("/class/drills/{id}").replaceFirst(".*/", "");
    HttpResponse<String> made = ask(
        inside("Isolde Farrow"), "POST", "/class/paper", Map.of("drill", drill, "versions", "1", "title", "On paper"));
    assertEquals(303, made.statusCode(), made.body());
    try (var list = MatrixIT.class.getResourceAsStream("who-may-open.txt")) {
      lines = new String(list.readAllBytes(), StandardCharsets.UTF_8).lines()
          .filter(l -> !l.isBlank() && !l.startsWith("#")).map(Line::parse).toList();
    }
  }

  @AfterAll
  static void close() {
    server.close();
    campus.close();
  }

  private static Installation demo() {
    return campus.at(DEMO.name()).orElseThrow();
  }

  /** A caller of the demo programme. */
  private static Caller inside(String fullName) {
    return Caller.of(demo(), DEMO, demo().people().person(DemoProgramme.id(fullName)).orElseThrow());
  }

  private static Caller inside(Role role) {
    return inside(switch (role) {
      case APPRENTICE -> "Wren Aldous";
      case INSTRUCTOR -> "Isolde Farrow";
      case COORDINATOR -> "Magnus Thorley";
    });
  }

  /** A caller of the other site. */
  private static Caller outside(Role role) {
    return Caller.of(campus.first(), new Site(Site.FIRST, ""), campus.first().people().inRole(role).get(0));
  }

  private static HttpResponse<String> ask(Caller caller, String method, String path, Map<String, String> fields) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + path)).header("Cookie", caller.cookies());
    if (method.equals("GET")) {
      request.GET();
    } else {
      String form = Stream.concat(Stream.of(Map.entry("csrf", caller.secret())), fields.entrySet().stream())
          .map(f -> f.getKey() + "=" + URLEncoder.encode(f.getValue(), StandardCharsets.UTF_8))
          .collect(Collectors.joining("&"));
      request.header("Content-Type", "application/x-www-form-urlencoded")
          .method(method, HttpRequest.BodyPublishers.ofString(form));
    }
    try {
      return CLIENT.send(request.build(), HttpResponse.BodyHandlers.ofString());
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException(method + " " + path, e);
    }
  }

  private static boolean asksToSignIn(HttpResponse<String> answer) {
    return answer.statusCode() == 303 && answer.headers().firstValue("Location").orElse("").startsWith("/sign-in?then=");
  }

  /** Asks as each caller and collects what is otherwise than expected. */
  private static final class Findings {
    private final List<String> found = new ArrayList<>();
    private int asked;

    void expect(Line line, Caller caller, String path, Map<String, String> fields, String words,
        Predicate<HttpResponse<String>> expected) {
      asked++;
      HttpResponse<String> answer = ask(caller, line.method(), path, fields);
      if (!expected.test(answer)) {
        found.add(line + "\n    as " + caller.words() + ": expected " + words + ", got " + answer.statusCode() + " "
            + answer.headers().firstValue("Location").orElse(""));
      }
    }

    void assertNone() {
      System.out.println(asked + " requests");
      assertEquals(List.of(), found, () -> String.join("\n", found));
    }
  }

  @Test
  @Order(1)
  void theListNamesEveryRouteAndWhatTheRouteSaysOfItself() {
    Set<String> routes = server.routes().stream().map(Line::of).map(Line::toString).collect(Collectors.toCollection(TreeSet::new));
    Set<String> listed = lines.stream().map(Line::toString).collect(Collectors.toCollection(TreeSet::new));
    Set<String> notListed = new TreeSet<>(routes);
    notListed.removeAll(listed);
    Set<String> notThere = new TreeSet<>(listed);
    notThere.removeAll(routes);
    assertTrue(notListed.isEmpty() && notThere.isEmpty(),
        () -> "routes that the list does not have:\n" + String.join("\n", notListed) + "\nlines that are no route:\n"
            + String.join("\n", notThere));
    assertTrue(routes.size() > 100, routes.size() + " routes");
    System.out.println(routes.size() + " routes");
  }

  @Test
  @Order(2)
  void whoeverTheListDoesNotNameIsRefused() {
    Findings findings = new Findings();
    for (Line line : lines) {
      if (line.isOpen()) {
        continue;
      }
      String path = things.path(line.path());
      findings.expect(line, Caller.nobody(DEMO), path, Map.of(), "to be asked to sign in",
          a -> line.method().equals("GET") ? asksToSignIn(a) : a.statusCode() == 403);
      for (Role role : Role.values()) {
        if (!line.admits(role)) {
          findings.expect(line, inside(role), path, Map.of(), "403", a -> a.statusCode() == 403);
        }
      }
    }
    findings.assertNone();
  }

  @Test
  @Order(3)
  void whatIsAnotherPersonsIsNotThere() {
    Findings findings = new Findings();
    for (Line line : lines) {
      if (line.isOwn(Role.APPRENTICE)) {
        findings.expect(line, inside("Orla Benedek"), things.path(line.path()), Map.of(), "404", a -> a.statusCode() == 404);
      }
      if (line.isOwn(Role.INSTRUCTOR)) {
        findings.expect(line, inside("Tobias Renn"), things.path(line.path()), Map.of(), "404", a -> a.statusCode() == 404);
      }
    }
    assertTrue(findings.asked > 20, findings.asked + " routes are bound to what is one's own");
    findings.assertNone();
  }

  @Test
  @Order(4)
  void whatIsOfAnotherSiteIsNotThereAndStaysAsItIs() {
    Map<String, String> paths = new TreeMap<>();
    lines.forEach(line -> paths.put(line.toString(), things.path(line.path())));
    Map<String, String> fields = Map.of(
        "apprentice", DemoProgramme.id("Wren Aldous").toString(), "person", DemoProgramme.id("Wren Aldous").toString(),
        "cohort", DemoProgramme.id("first year").toString(), "reason", "Taken from outside", "pin", "2468");
    Map<String, List<String>> before = content();
    Findings findings = new Findings();
    for (Line line : lines) {
      List<Caller> callers = new ArrayList<>(Arrays.stream(Role.values()).map(MatrixIT::outside).toList());
      callers.add(Caller.nobody(new Site(Site.FIRST, "")));
      for (Caller caller : callers) {
        boolean thing = ThingsInPaths.namesAThing(line.path());
        findings.expect(line, caller, paths.get(line.toString()), fields,
            thing ? "nothing, and not a word of the other site" : "not a word of the other site",
            a -> a.statusCode() < 500
                && (!thing || a.statusCode() >= 400 || asksToSignIn(a))
                && !a.body().contains("Wren") && !a.body().contains("Cinder") && !a.body().contains("Farrow"));
      }
    }
    findings.assertNone();
    Map<String, List<String>> after = content();
    before.forEach((table, rows) -> assertEquals(rows, after.get(table), "the other site's table " + table));
  }

  /** All that the demo programme's tables hold. */
  private static Map<String, List<String>> content() {
    Database database = demo().database();
    Map<String, List<String>> content = new TreeMap<>();
    for (Record table : database.dsl().fetch("select table_name from information_schema.tables where table_schema = '"
        + database.schema() + "'")) {
      String name = table.get(0, String.class);
      content.put(name, database.dsl().fetch("select * from " + name).map(row -> Arrays.deepToString(row.intoArray())).stream()
          .sorted().toList());
    }
    assertTrue(content.get("person").size() > 20);
    return content;
  }

  @Test
  @Order(5)
  void whoeverTheListNamesIsLetIn() {
    Findings findings = new Findings();
    // what is only read comes first; then what is sent, signing out and leaving last
    for (String method : List.of("GET", "POST")) {
      for (Line line : lines.stream().filter(l -> l.method().equals(method)).toList()) {
        for (Role role : Role.values()) {
          if (line.admits(role)) {
            // a tablet is nobody's, and a link of the first coordinator's works once: what is open may also not be there
            // and no answer of the demo's awaits a ruling
            boolean mayBeGone = line.isOpen() || method.equals("POST") || line.path().equals("/class/rulings/new");
            findings.expect(line, inside(role), things.path(line.path()), Map.of(), "to be let in",
                a -> a.statusCode() < 500 && a.statusCode() != 403 && (line.isOpen() || !asksToSignIn(a))
                    && (mayBeGone || a.statusCode() != 404));
          }
        }
      }
    }
    findings.assertNone();
  }
}

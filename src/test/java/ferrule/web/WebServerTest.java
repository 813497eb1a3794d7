package ferrule.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.site.Site;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import io.javalin.config.RoutesConfig;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class WebServerTest {

  private static final List<String> NOTED = new ArrayList<>();

  private Database database;
  private PeopleStore people;
  private WebServer server;

  /** A feature with one page for each role and a form. */
  private static final class Probe implements Pages {
    @Override
    public void routes(RoutesConfig routes) {
      routes.get("/lathe", ctx -> ctx.result("lathe"), Access.APPRENTICE);
      routes.get("/ledger", ctx -> ctx.result("ledger"), Access.COORDINATOR);
      routes.post("/lathe", ctx -> NOTED.add(Visit.formText(ctx, "note").orElse("")), Access.APPRENTICE);
      routes.get("/forgotten", ctx -> ctx.result("a route that names nobody"));
      routes.get("/broken", ctx -> { throw new IllegalStateException("secret detail"); }, Access.ANYONE);
    }

    @Override
    public List<NavEntry> nav() {
      return List.of(NavEntry.of("Lathe", "/lathe", 1, Access.APPRENTICE));
    }
  }

  @BeforeEach
  void open() {
    NOTED.clear();
    database = RealDatabases.h2();
    people = new PeopleStore(database, Clock.systemUTC());
    add("wren", Role.APPRENTICE);
    server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(new Probe()));
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private void add(String name, Role role) {
    people.add(
        new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty()),
        Optional.of("copper kettle"),
        Optional.empty());
  }

  private Browser browser() {
    return new Browser(server.port());
  }

  @Test
  void aVisitorIsAskedToSignInAndThenGoesOnToWhereTheyWanted() {
    Browser browser = browser();
    Browser.Answer form = browser.get("/lathe");
    assertEquals(303, form.status());
    assertEquals("/sign-in?then=%2Flathe", form.location());
    Browser.Answer in = browser.signIn("wren", "copper kettle", "/lathe");
    assertEquals("/lathe", in.location());
    assertEquals("lathe", browser.get("/lathe").body());
  }

  @Test
  void aWrongPasswordIsToldWithoutSayingWhichOfTheTwoIsWrong() {
    Browser.Answer wrongPassword = browser().signIn("wren", "copper", "/");
    Browser.Answer wrongName = browser().signIn("wrong", "copper kettle", "/");
    assertEquals(401, wrongPassword.status());
    assertEquals(401, wrongName.status());
    assertTrue(wrongPassword.body().contains("The name or the password is not right"));
    assertTrue(wrongName.body().contains("The name or the password is not right"));
  }

  @Test
  void signInGoesOnToPathsOfOursOnly() {
    assertEquals("/", browser().signIn("wren", "copper kettle", "https://example.org/").location());
    assertEquals("/", browser().signIn("wren", "copper kettle", "//example.org/").location());
    assertEquals("/", browser().signIn("wren", "copper kettle", "/\\example.org").location());
  }

  @Test
  void aPageForAnotherRoleIsRefused() {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    assertEquals(403, browser.get("/ledger").status());
  }

  @Test
  void aRouteThatNamesNobodyIsRefusedToAll() {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    assertEquals(403, browser.get("/forgotten").status());
  }

  @Test
  void aFormWithoutItsSecretChangesNothing() {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    assertEquals(403, browser.post("/lathe", Map.of("note", "forged")).status());
    assertEquals(403, browser.post("/lathe", Map.of("note", "forged", "csrf", "guess")).status());
    assertEquals(List.of(), NOTED);
    String secret = browser.get("/nothing-here").hidden("csrf");
    assertEquals(200, browser.post("/lathe", Map.of("note", "mine", "csrf", secret)).status());
    assertEquals(List.of("mine"), NOTED);
  }

  @Test
  void whatNoDatabaseKeepsAsTextIsRefused() throws java.io.IOException {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    String secret = browser.get("/nothing-here").hidden("csrf");
    Browser.Answer refused = browser.post("/lathe", Map.of("note", "a\0b", "csrf", secret));
    assertEquals(400, refused.status());
    assertTrue(refused.body().contains("holds a character that is no text"), refused.body());
    assertEquals(List.of(), NOTED);
    assertEquals(400, browser.get("/lathe?note=a%00b").status());
    try (var socket = new java.net.Socket("127.0.0.1", server.port())) { // no client of Java's own sends a broken escape
      socket.getOutputStream().write("GET /sign-in?then=%zz HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n".getBytes());
      String answer = new String(socket.getInputStream().readAllBytes());
      assertFalse(answer.startsWith("HTTP/1.1 5"), answer.substring(0, Math.min(200, answer.length())));
    }
    assertTrue(Gate.isUnkeepable("half \ud83d of a pair"));
    assertFalse(Gate.isUnkeepable("a whole pair \ud83d\udd27"));
  }

  @Test
  void whatNoDatabaseKeepsAsTextIsRefusedInPartsToo() throws java.io.IOException, InterruptedException {
    assertEquals(400, signInInParts("a\0b"));
    assertEquals(401, signInInParts("nobody"));
  }

  private int signInInParts(String name) throws java.io.IOException, InterruptedException {
    String part = "--mark\r\nContent-Disposition: form-data; name=\"name\"\r\n\r\n" + name + "\r\n--mark--\r\n";
    return java.net.http.HttpClient.newHttpClient().send(
        java.net.http.HttpRequest.newBuilder(java.net.URI.create("http://127.0.0.1:" + server.port() + "/sign-in"))
            .header("Cookie", "ferrule_visitor=secret").header("X-CSRF-Token", "secret")
            .header("Content-Type", "multipart/form-data; boundary=mark")
            .POST(java.net.http.HttpRequest.BodyPublishers.ofString(part)).build(),
        java.net.http.HttpResponse.BodyHandlers.discarding()).statusCode();
  }

  @Test
  void signingInWithoutTheFormOfThisBrowserIsRefused() {
    Browser.Answer forged = browser().post("/sign-in", Map.of("name", "wren", "password", "copper kettle"));
    assertEquals(403, forged.status());
  }

  @Test
  void signingOutEndsTheSession() {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    String secret = browser.get("/nothing-here").hidden("csrf");
    assertEquals("/sign-in", browser.post("/sign-out", Map.of("csrf", secret)).location());
    assertEquals(303, browser.get("/lathe").status());
  }

  @Test
  void homeIsTheFirstPlaceOfOnesMenu() {
    Browser browser = browser();
    browser.signIn("wren", "copper kettle", "/");
    assertEquals("/lathe", browser.get("/").location());
  }

  @Test
  void everyAnswerForbidsScriptsOfOthersAndIsNotKept() {
    Browser.Answer page = browser().get("/sign-in");
    assertTrue(page.header("Content-Security-Policy").contains("default-src 'self'"));
    assertFalse(page.header("Content-Security-Policy").contains("unsafe"));
    assertEquals("no-store", page.header("Cache-Control"));
    assertEquals("nosniff", page.header("X-Content-Type-Options"));
    assertTrue(browser().get("/static/ferrule.css").header("Cache-Control").contains("immutable"));
  }

  @Test
  void aFaultIsToldWithoutItsDetails() {
    Browser.Answer fault = browser().get("/broken");
    assertEquals(500, fault.status());
    assertTrue(fault.body().contains("under " + fault.header("X-Request-Id")), fault.body());
    assertTrue(fault.body().contains("What you sent was not kept"));
    assertFalse(fault.body().contains("secret detail"));
  }

  @Test
  void theFirstCoordinatorMakesAnAccountByALinkThatWorksOnce() {
    String path = WebServer.firstCoordinatorPath(new Site(Site.FIRST, ""), people, Duration.ofHours(1))
        .substring("/at/main".length());
    Browser browser = browser();
    Browser.Answer form = browser.get(path);
    Map<String, String> account =
        Map.of("csrf", form.hidden("csrf"), "name", "magnus", "full-name", "Magnus Thorley", "password", "river ledger");
    Map<String, String> weak = new java.util.HashMap<>(account);
    weak.put("password", "short");
    assertEquals(400, browser.post(path, weak).status());
    assertEquals("/", browser.post(path, account).location());
    assertEquals("ledger", browser.get("/ledger").body(), "signed in as coordinator at once");
    assertEquals(404, browser().get(path).status());
  }
}

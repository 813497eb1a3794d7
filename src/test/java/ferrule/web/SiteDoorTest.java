package ferrule.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import io.javalin.config.RoutesConfig;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SiteDoorTest {

  private static final Site NIGHT = new Site("night", "Night bench");

  private Database database;
  private SiteStore stores;
  private WebServer server;

  /** A feature that says at which site it is and takes what is sent. */
  private record Probe(Site site) implements Pages {
    @Override
    public void routes(RoutesConfig routes) {
      routes.get("/where", ctx -> ctx.result(site.name()), Access.SIGNED_IN);
      routes.get("/address", ctx -> ctx.result(Visit.address(ctx, "/where")), Access.ANYONE);
      routes.get("/page", ctx -> Page.show(ctx, "web/error", Map.of("status", 200, "title", "A page", "advice", "")),
          Access.ANYONE);
      routes.post("/upload", ctx -> ctx.result(site.name() + " " + ctx.uploadedFile("file").size()), Access.ANYONE);
    }

    @Override
    public List<NavEntry> nav() {
      return List.of(NavEntry.of("Where", "/where", 1, Access.SIGNED_IN));
    }
  }

  private final class Both implements Sites {
    @Override
    public List<Site> all() {
      return stores.all();
    }

    @Override
    public Optional<Hosted> open(String name) {
      return stores.site(name).map(s -> new Hosted(s, people(s), List.of(new Probe(s))));
    }
  }

  private PeopleStore people(Site site) {
    return new PeopleStore(stores.open(site), Clock.systemUTC());
  }

  private void add(Site site, String name, String password) {
    people(site).add(
        new Person(UUID.randomUUID(), name, "Invented " + name, Role.INSTRUCTOR, Optional.empty()),
        Optional.of(password), Optional.empty());
  }

  @BeforeEach
  void open() {
    database = RealDatabases.h2();
    stores = new SiteStore(database, Clock.systemUTC());
    stores.rename(new Site("main", "Day bench"));
    add(stores.site("main").orElseThrow(), "isolde", "brass lantern");
    server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), new Both());
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  private Browser browser() {
    return new Browser(server.port());
  }

  private void openNight() {
    stores.add(NIGHT);
    add(NIGHT, "isolde", "silver kettle");
  }

  @Test
  void aSiteThatIsAddedWhileTheServerRunsIsServedFromThenOn() {
    Browser browser = browser();
    assertEquals(404, browser.get("/at/night/where").status());
    openNight();
    assertEquals("/where", browser.get("/at/night/where").location());
    assertTrue(browser.get("/sign-in").body().contains("Sign in at Night bench"));
  }

  @Test
  void anAccountAndASessionOfOneSiteAreNothingAtAnother() {
    openNight();
    Browser browser = browser();
    browser.signIn("isolde", "brass lantern", "/where");
    assertEquals("main", browser.get("/where").body());
    browser.get("/at/night/");
    assertEquals("/sign-in?then=%2Fwhere", browser.get("/where").location());
    assertEquals(401, browser.signIn("isolde", "brass lantern", "/where").status());
    assertEquals(303, browser.signIn("isolde", "silver kettle", "/where").status());
    assertEquals("night", browser.get("/where").body());
  }

  @Test
  void goingOverToAnotherSiteAndBackDoesNotSignAnybodyOut() {
    openNight();
    Browser browser = browser();
    browser.signIn("isolde", "brass lantern", "/where");
    browser.get("/at/night/");
    browser.signIn("isolde", "silver kettle", "/where");
    browser.get("/at/main/");
    assertEquals("main", browser.get("/where").body());
    browser.post("/sign-out", Map.of("csrf", browser.get("/page").hidden("csrf")));
    assertEquals(303, browser.get("/where").status());
    browser.get("/at/night/");
    assertEquals("night", browser.get("/where").body(), "signing out ends the session of that site alone");
  }

  @Test
  void aFormOfOneSiteSentToAnotherChangesNothing() {
    openNight();
    Browser browser = browser();
    browser.signIn("isolde", "brass lantern", "/where");
    String secretOfDay = browser.get("/page").hidden("csrf");
    browser.get("/at/night/");
    browser.signIn("isolde", "silver kettle", "/where");
    assertEquals(403, browser.post("/sign-out", Map.of("csrf", secretOfDay)).status());
  }

  @Test
  void aLinkThatLeavesTheHouseLeadsBackToItsSite() {
    openNight();
    Browser browser = browser();
    assertTrue(browser.get("/address").body().endsWith("/at/main/where"));
    browser.get("/at/night/");
    assertTrue(browser.get("/address").body().endsWith("/at/night/where"));
    Browser guest = browser();
    String invitation = WebServer.firstCoordinatorPath(NIGHT, people(NIGHT), Duration.ofHours(1));
    Browser.Answer in = guest.get(invitation);
    assertEquals(200, guest.get(in.location()).status());
  }

  @Test
  void theSignInPageOffersTheOtherSitesOnlyIfThereAreAny() {
    assertFalse(browser().get("/sign-in").body().contains("Another programme"));
    openNight();
    assertTrue(browser().get("/sign-in").body().contains("/at/night/sign-in"));
  }

  @Test
  void everyPageSaysAtWhichSiteItIs() {
    openNight();
    Browser browser = browser();
    assertTrue(browser.get("/page").body().contains("Day bench"));
    stores.rename(new Site("night", "Evening bench"));
    browser.get("/at/night/");
    assertTrue(browser.get("/page").body().contains("Evening bench"));
  }

  @Test
  void staticFilesAndUploadsWorkAtEverySite() {
    openNight();
    Browser browser = browser();
    browser.get("/at/night/");
    assertEquals(200, browser.get("/static/ferrule.css").status());
    String secret = browser.get("/sign-in").hidden("csrf");
    assertEquals("night 5", browser.upload("/upload", secret, "bytes").body());
  }

  @ParameterizedTest
  @ValueSource(strings = {"/at/night//example.org", "/at/night/%5Cexample.org", "/at/night/%2Fexample.org"})
  void theAddressOfASiteLeadsToNoOtherHost(String path) {
    openNight();
    String location = browser().get(path).location();
    assertFalse(location.startsWith("//") || location.contains("\\"), location);
  }

  @ParameterizedTest
  @ValueSource(strings = {"/at/", "/at/nowhere", "/at/Night/", "/at/night';drop/", "/at/site_night/"})
  void anAddressOfNoSiteLeadsNowhere(String path) {
    openNight();
    assertEquals(404, browser().get(path).status());
  }
}

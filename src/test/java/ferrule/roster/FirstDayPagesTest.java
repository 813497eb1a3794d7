package ferrule.roster;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class FirstDayPagesTest {

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCoordinatorGoesFromNothingToTheFirstDrill(Database database) {
    AtomicBoolean drillSet = new AtomicBoolean();
    PeopleStore people = new PeopleStore(database, Clock.systemUTC());
    SiteStore sites = new SiteStore(database, Clock.systemUTC());
    people.add(
        new Person(UUID.randomUUID(), "magnus", "Invented Magnus", Role.COORDINATOR, Optional.empty()),
        Optional.of("river ledger"), Optional.empty());
    try (database;
        WebServer server = WebServer.start(
            new WebConfig("127.0.0.1", 0, false, List.of()), people,
            List.of(
                new FirstDayPages(people, sites, Site.FIRST, drillSet::get),
                new RosterPages(people, () -> List.of(
                    new EditionChoice("edition-1", "the present one"), new EditionChoice("edition-0", "an older one")),
                    Clock.systemUTC(), ZoneOffset.UTC),
                new RosterFilePages(people, Clock.systemUTC(), ZoneOffset.UTC)))) {
      Browser magnus = new Browser(server.port());
      magnus.signIn("magnus", "river ledger", "/");
      assertEquals("/first-day", magnus.get("/").location());
      Browser.Answer page = magnus.get("/first-day");
      assertTrue(page.body().contains("0 of 5 done"), page.body());
      String secret = page.hidden("csrf");

      assertEquals(400, magnus.post("/first-day/name", Map.of("csrf", secret, "title", " ")).status());
      magnus.post("/first-day/name", Map.of("csrf", secret, "title", "Evening bench"));
      assertEquals("Evening bench", sites.site(Site.FIRST).orElseThrow().title());

      magnus.post("/people/cohorts", Map.of("csrf", secret, "title", "First year", "starts", "2026-09-07", "ends", "2027-06-25",
          "edition", "edition-0"));
      assertEquals("edition-0", people.cohorts().get(0).edition());
      assertEquals(400, magnus.post("/people/cohorts", Map.of("csrf", secret, "title", "Other", "starts", "2026-09-07", "ends",
          "2027-06-25", "edition", "edition-9")).status());

      String roster = "name,cohort,role\nWren Aldous,First year,\nBram Okoro,First year,apprentice\nIsolde Farrow,,instructor\n";
      assertEquals(400, magnus.post("/people/roster", Map.of("csrf", secret, "text", roster + "Cass,Nowhere,\n")).status());
      Browser.Answer look = magnus.post("/people/roster", Map.of("csrf", secret, "text", roster, "cohort", ""));
      assertEquals(200, look.status());
      assertTrue(look.body().contains("3 added"), look.body());
      assertEquals(List.of(), people.inRole(Role.APPRENTICE), "looked over, and nothing done");

      Map<String, String> doThis = new HashMap<>(Map.of("csrf", secret, "text", roster, "shown", look.hidden("shown")));
      Map<String, String> other = new HashMap<>(doThis);
      other.put("text", roster + "Cass Delaine,First year,\n");
      assertEquals(409, magnus.post("/people/roster/take-in", other).status(), "not what was looked over");
      assertEquals(303, magnus.post("/people/roster/take-in", doThis).status());
      assertEquals(2, people.members(people.cohorts().get(0).id()).size());
      assertEquals(1, people.inRole(Role.INSTRUCTOR).size());
      assertEquals(409, magnus.post("/people/roster/take-in", doThis).status(), "it was done: nothing of it is to be done");
      assertTrue(magnus.post("/people/roster", Map.of("csrf", secret, "text", roster)).body().contains("3 there already"));

      assertTrue(magnus.get("/first-day").body().contains("3 of 5 done"));
      Person isolde = people.inRole(Role.INSTRUCTOR).get(0);
      people.accept(people.invite(isolde.id(), java.time.Duration.ofHours(1)), "brass lantern");
      assertTrue(magnus.get("/first-day").body().contains("4 of 5 done"));
      drillSet.set(true);
      assertEquals("/people", magnus.get("/").location());
      assertTrue(magnus.get("/first-day").body().contains("The first steps are done"));
    }
  }
}

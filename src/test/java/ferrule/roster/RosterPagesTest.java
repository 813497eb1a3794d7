package ferrule.roster;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.Cohort;
import ferrule.people.Entry;
import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SignInStore;
import ferrule.store.Database;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class RosterPagesTest {

  /** A running server with these pages alone, over an empty database. */
  private static final class Office implements AutoCloseable {

    private final Database database;
    private final PeopleStore people;
    private final WebServer server;

    Office(Database database) {
      this.database = database;
      this.people = new PeopleStore(database, Clock.systemUTC());
      RosterPages pages = new RosterPages(
          people, () -> List.of(new EditionChoice("edition-1", "the first"), new EditionChoice("edition-0", "an older one")), Clock.systemUTC(), ZoneOffset.UTC);
      this.server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages));
    }

    Browser visitor() {
      return new Browser(server.port());
    }

    Browser coordinator() {
      Person magnus = new Person(UUID.randomUUID(), "magnus", "Invented Magnus", Role.COORDINATOR, Optional.empty());
      people.add(magnus, Optional.of("river ledger"), Optional.empty());
      Browser browser = visitor();
      browser.signIn("magnus", "river ledger", "/people");
      return browser;
    }

    @Override
    public void close() {
      server.close();
      database.close();
    }
  }

  private static boolean lets(PeopleStore people, String name, String password) {
    return people.signIns().enter(SignInStore.Try.of(name, password)) instanceof Entry.Right;
  }

  private static String invitation(Browser coordinator, UUID person) {
    String secret = coordinator.get("/people").hidden("csrf");
    Browser.Answer page = coordinator.post("/people/" + person + "/invitation", Map.of("csrf", secret));
    Matcher link = Pattern.compile("/invitation/[\\w-]+").matcher(page.body());
    assertTrue(link.find(), page.body());
    return link.group();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCoordinatorStartsFromNothingAndAnApprenticeComesIn(Database database) {
    try (Office office = new Office(database)) {
      PeopleStore people = office.people;
      Browser magnus = office.coordinator();
      String secret = magnus.get("/people").hidden("csrf");
      magnus.post("/people/cohorts",
          Map.of("csrf", secret, "title", "First year", "starts", "2026-09-07", "ends", "2027-06-25"));
      Cohort cohort = people.cohorts().get(0);
      assertEquals("edition-1", cohort.edition());

      Map<String, String> faulty =
          Map.of("csrf", secret, "role", "apprentice", "cohort", cohort.id().toString(), "names", "Wren Aldous\n,x");
      Browser.Answer refused = magnus.post("/people", faulty);
      assertEquals(400, refused.status());
      assertTrue(refused.body().contains("Line 2") && refused.body().contains("Wren Aldous"), "the list is kept");
      assertEquals(List.of(), people.inRole(Role.APPRENTICE), "nobody was added");

      magnus.post("/people", Map.of("csrf", secret, "role", "apprentice", "cohort", cohort.id().toString(),
          "names", "Wren Aldous\nBram Okoro, bram"));
      assertEquals(2, people.members(cohort.id()).size());

      UUID wren = people.inRole(Role.APPRENTICE).stream().filter(p -> p.fullName().startsWith("Wren")).findFirst()
          .orElseThrow().id();
      String link = invitation(magnus, wren);
      Browser phone = office.visitor();
      Browser.Answer form = phone.get(link);
      assertTrue(form.body().contains("Wren Aldous"));
      assertEquals(400, phone.post(link, Map.of("csrf", form.hidden("csrf"), "password", "short")).status());
      assertEquals(303, phone.post(link, Map.of("csrf", form.hidden("csrf"), "password", "copper kettle")).status());
      assertEquals(404, office.visitor().get(link).status(), "an invitation works once");
      assertTrue(lets(people, "wren.aldous", "copper kettle"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whoeverHasLeftIsSignedOutAndCanBeTakenBack(Database database) {
    try (Office office = new Office(database)) {
      PeopleStore people = office.people;
      Browser magnus = office.coordinator();
      Person isolde = new Person(UUID.randomUUID(), "isolde", "Invented Isolde", Role.INSTRUCTOR, Optional.empty());
      people.add(isolde, Optional.of("brass lantern"), Optional.empty());
      String session = people.sessions().open(isolde.id(), Opening.by(Opening.How.PASSWORD, "a tablet"));
      String link = invitation(magnus, isolde.id());
      String secret = magnus.get("/people").hidden("csrf");

      magnus.post("/people/" + isolde.id() + "/left", Map.of("csrf", secret));
      assertTrue(people.sessions().find(session).isEmpty());
      assertFalse(lets(people, "isolde", "brass lantern"));
      assertEquals(404, office.visitor().get(link).status(), "an old invitation does not let them in");

      magnus.post("/people/" + isolde.id() + "/back", Map.of("csrf", secret));
      assertTrue(lets(people, "isolde", "brass lantern"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void nobodyNotesThemselvesAsHavingLeft(Database database) {
    try (Office office = new Office(database)) {
      PeopleStore people = office.people;
      Browser magnus = office.coordinator();
      UUID own = people.inRole(Role.COORDINATOR).get(0).id();
      String secret = magnus.get("/people").hidden("csrf");
      assertEquals(400, magnus.post("/people/" + own + "/left", Map.of("csrf", secret)).status());
      assertFalse(people.inRole(Role.COORDINATOR).get(0).leftOn().isPresent());
    }
  }
}

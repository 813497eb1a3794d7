package ferrule.web;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;

/** What tests of pages over real HTTP have in common: persons who can sign in, and the end of server and database. */
public abstract class VisitedPages {

  private static final String PASSWORD = "copper kettle";

  protected Database database;
  protected PeopleStore people;
  protected WebServer server;

  @AfterEach
  void close() {
    server.close();
    database.close();
  }

  /** Adds a person who signs in under this name. */
  protected final Person add(String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.of(PASSWORD), Optional.empty());
    return person;
  }

  /** A visitor who has signed in as this person. */
  protected final Browser as(String name) {
    Browser browser = new Browser(server.port());
    assertEquals(303, browser.signIn(name, PASSWORD, "/").status());
    return browser;
  }
}

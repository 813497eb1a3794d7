package ferrule.web;

import static ferrule.store.jooq.Tables.PERSON;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.password4j.Argon2Function;
import com.password4j.Password;
import com.password4j.types.Argon2;
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
  // far weaker than any that the program makes: a hash carries its own cost, and these tests sign in hundreds of times
  private static final String HASH =
      Password.hash(PASSWORD).addRandomSalt(16).with(Argon2Function.getInstance(64, 1, 1, 32, Argon2.ID)).getResult();

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
    people.add(person, Optional.empty(), Optional.empty());
    letIn(person);
    return person;
  }

  /** Lets a person sign in who is there and could not. */
  protected final void letIn(Person person) {
    database.dsl().update(PERSON).set(PERSON.PASSWORD_HASH, HASH).where(PERSON.ID.eq(person.id())).execute();
  }

  /** A visitor who has signed in as this person. */
  protected final Browser as(String name) {
    Browser browser = new Browser(server.port());
    assertEquals(303, browser.signIn(name, PASSWORD, "/").status());
    return browser;
  }
}

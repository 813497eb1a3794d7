package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class PasskeyStoreTest {

  private static final PasskeyPlace HERE = PasskeyPlace.of("https", "ferrule.example:8443");

  private static final List<String> NO_ANSWERS =
      List.of(
          "", " ", "null", "[]", "{}", "7", "\"text\"", "{\"response\":null}", "{\"response\":{}}",
          "{\"id\":\"AA\",\"rawId\":\"AA\",\"type\":\"public-key\",\"response\":{}}",
          "{\"id\":\"AA\",\"rawId\":\"AA\",\"type\":\"public-key\",\"clientExtensionResults\":{},\"response\":"
              + "{\"clientDataJSON\":\"e30\",\"authenticatorData\":\"AA\",\"attestationObject\":\"oA\",\"signature\":\"AA\"}}",
          "{\"id\":\"%\",\"rawId\":\"%\",\"response\":{\"clientDataJSON\":\"%%\"}}", "\u0000", "{".repeat(2_000));

  @Test
  void whatIsNoAnswerOfABrowserIsRefusedAndNotStumbledOver() {
    try (Database database = RealDatabases.h2()) {
      PeopleStore people = new PeopleStore(database, Clock.systemUTC());
      Person isolde = new Person(UUID.randomUUID(), "isolde", "Invented Isolde", Role.INSTRUCTOR, Optional.empty());
      people.add(isolde, Optional.empty(), Optional.empty());
      for (String answer : NO_ANSWERS) {
        assertFalse(people.passkeys().make(isolde.id(), answer, "Phone", HERE), answer);
        assertEquals(Optional.empty(), people.passkeys().enter(answer, HERE), answer);
        assertEquals(new Presence.NotByThisKey(), people.passkeys().provePresence(isolde.id(), answer, HERE), answer);
      }
    }
  }

  @Test
  void aPlaceIsTheHostWithoutItsPort() {
    assertEquals(new PasskeyPlace("https://ferrule.example:8443", "ferrule.example"), HERE);
  }
}

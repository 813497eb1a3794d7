package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.web.HandClock;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class TabletStoreTest {

  private final HandClock clock = new HandClock(Instant.parse("2026-11-25T18:00:00Z"));

  private static Person add(PeopleStore people, String name, Role role) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
    people.add(person, Optional.of("copper kettle"), Optional.of("2468"));
    return person;
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whoHasSignedInThereInFullComesBackByPinAndACoordinatorDoesNot(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = add(people, "isolde", Role.INSTRUCTOR);
      Person wren = add(people, "wren", Role.APPRENTICE);
      Person magnus = add(people, "magnus", Role.COORDINATOR);
      TabletStore tablets = people.tablets();
      UUID bench = tablets.find(tablets.make("Bench 2", isolde.id())).orElseThrow().id();
      tablets.welcome(bench, isolde.id());
      tablets.welcome(bench, magnus.id());
      assertEquals(List.of(isolde), tablets.people(bench));
      assertEquals(new TabletStore.Entry.Right(isolde), tablets.enter(bench, isolde.id(), "2468"));
      assertEquals(new TabletStore.Entry.SignInInFull(), tablets.enter(bench, wren.id(), "2468"));
      assertEquals(new TabletStore.Entry.SignInInFull(), tablets.enter(bench, magnus.id(), "2468"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void wrongPinsCountOnThatTabletForThatPersonOnlyAndNeverKeepAnyoneFromSigning(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = add(people, "isolde", Role.INSTRUCTOR);
      Person wren = add(people, "wren", Role.APPRENTICE);
      TabletStore tablets = people.tablets();
      UUID one = tablets.find(tablets.make("Bench 1", isolde.id())).orElseThrow().id();
      UUID two = tablets.find(tablets.make("Bench 2", isolde.id())).orElseThrow().id();
      for (UUID tablet : List.of(one, two)) {
        tablets.welcome(tablet, isolde.id());
        tablets.welcome(tablet, wren.id());
      }
      for (int left = TabletStore.TRIES - 1; left > 0; left--) {
        assertEquals(new TabletStore.Entry.Wrong(left), tablets.enter(one, isolde.id(), "0000"));
      }
      assertInstanceOf(TabletStore.Entry.Wait.class, tablets.enter(one, isolde.id(), "0000"));
      assertInstanceOf(TabletStore.Entry.Wait.class, tablets.enter(one, isolde.id(), "2468"), "the right one too");

      assertEquals(new TabletStore.Entry.Right(isolde), tablets.enter(two, isolde.id(), "2468"), "on another tablet");
      assertEquals(new TabletStore.Entry.Right(wren), tablets.enter(one, wren.id(), "2468"), "another person");
      assertEquals(new Presence.Proven(), people.provePresence(isolde.id(), "2468"), "signing");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void fifteenWrongOnesAskForAFullSignInHoweverLongOneWaits(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = add(people, "isolde", Role.INSTRUCTOR);
      TabletStore tablets = people.tablets();
      UUID bench = tablets.find(tablets.make("Bench 2", isolde.id())).orElseThrow().id();
      tablets.welcome(bench, isolde.id());
      for (int i = 0; i < TabletStore.MOST; i++) {
        tablets.enter(bench, isolde.id(), "0000");
        clock.pass(TabletStore.PAUSE.plusSeconds(1));
      }
      assertEquals(new TabletStore.Entry.SignInInFull(), tablets.enter(bench, isolde.id(), "2468"));
      tablets.welcome(bench, isolde.id());
      assertEquals(new TabletStore.Entry.Right(isolde), tablets.enter(bench, isolde.id(), "2468"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aTabletTakenOutOfUseSignsEveryoneOutThere(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = add(people, "isolde", Role.INSTRUCTOR);
      String token = people.tablets().make("Bench 2", isolde.id());
      UUID bench = people.tablets().find(token).orElseThrow().id();
      String there = people.sessions().open(isolde.id(), Opening.by(Opening.How.PIN, "a tablet").onTablet(bench));
      String own = people.sessions().open(isolde.id(), Opening.by(Opening.How.PASSWORD, "a phone"));
      people.tablets().close(bench);
      assertTrue(people.sessions().find(there).isEmpty());
      assertTrue(people.sessions().find(own).isPresent());
      assertTrue(people.tablets().find(token).isEmpty());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aSessionOnATabletClosesThreeMinutesAfterItsLastUse(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = add(people, "isolde", Role.INSTRUCTOR);
      UUID bench = people.tablets().find(people.tablets().make("Bench 2", isolde.id())).orElseThrow().id();
      String there = people.sessions().open(isolde.id(), Opening.by(Opening.How.PIN, "a tablet").onTablet(bench));
      for (int i = 0; i < 4; i++) {
        clock.pass(Opening.TABLET_IDLE.minusSeconds(5));
        assertTrue(people.sessions().find(there).isPresent(), "used in time");
      }
      clock.pass(Opening.TABLET_IDLE.plusSeconds(1));
      assertTrue(people.sessions().find(there).isEmpty());
    }
  }
}

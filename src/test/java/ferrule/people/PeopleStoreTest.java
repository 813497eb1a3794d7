package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.exception.DataAccessException;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class PeopleStoreTest {

  private static final Instant START = Instant.parse("2026-11-25T18:00:00Z");

  private Instant now = START;

  private final Clock clock =
      new Clock() {
        @Override
        public ZoneId getZone() {
          return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
          return this;
        }

        @Override
        public Instant instant() {
          return now;
        }
      };

  private static Person person(String signInName, Role role) {
    return new Person(UUID.randomUUID(), signInName, "Invented " + signInName, role, Optional.empty());
  }

  private static Entry enter(PeopleStore people, String name, String password) {
    return people.signIns().enter(SignInStore.Try.of(name, password));
  }

  private static String open(PeopleStore people, Person person) {
    return people.sessions().open(person.id(), Opening.by(Opening.How.PASSWORD, "Firefox on Linux"));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theRightPasswordOpensASessionAndAWrongOneDoesNot(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person fenn = person("fenn", Role.APPRENTICE);
      people.add(fenn, Optional.of("copper kettle"), Optional.empty());

      assertEquals(new Entry.Wrong(), enter(people, "fenn", "copper kettles"));
      assertEquals(new Entry.Wrong(), enter(people, "nobody", "copper kettle"));
      assertEquals(new Entry.Right(fenn, false), enter(people, " Fenn ", "copper kettle"));
      String token = open(people, fenn);
      assertEquals(fenn, people.sessions().find(token).orElseThrow().person());
      assertTrue(people.sessions().find(token + "x").isEmpty());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whoeverHasLeftOrHasNoPasswordCannotSignIn(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person left =
          new Person(UUID.randomUUID(), "gone", "Invented Gone", Role.APPRENTICE, Optional.of(LocalDate.of(2026, 10, 1)));
      people.add(left, Optional.of("copper kettle"), Optional.empty());
      people.add(person("unready", Role.APPRENTICE), Optional.empty(), Optional.empty());

      assertEquals(new Entry.Wrong(), enter(people, "gone", "copper kettle"));
      assertEquals(new Entry.Wrong(), enter(people, "unready", ""));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aSessionStaysOpenWhileItIsUsedAndClosesWhenItIsNot(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person fenn = person("fenn", Role.APPRENTICE);
      people.add(fenn, Optional.of("copper kettle"), Optional.empty());
      String token = open(people, fenn);

      now = START.plus(Opening.IDLE).minusSeconds(60);
      assertTrue(people.sessions().find(token).isPresent());
      now = now.plus(Opening.IDLE).minusSeconds(60);
      assertTrue(people.sessions().find(token).isPresent(), "use an hour before the end keeps it open");
      now = now.plus(Opening.IDLE).plusSeconds(1);
      assertTrue(people.sessions().find(token).isEmpty());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void signingOutClosesThatSessionOnly(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person fenn = person("fenn", Role.APPRENTICE);
      people.add(fenn, Optional.of("copper kettle"), Optional.empty());
      String tablet = open(people, fenn);
      String phone = open(people, fenn);

      people.sessions().close(people.sessions().find(tablet).orElseThrow());
      assertTrue(people.sessions().find(tablet).isEmpty());
      assertTrue(people.sessions().find(phone).isPresent());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aNameIsGivenOnceWhateverItsCase(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      people.add(person("fenn", Role.APPRENTICE), Optional.empty(), Optional.empty());
      Person second = person("Fenn", Role.APPRENTICE);
      assertThrows(DataAccessException.class, () -> people.add(second, Optional.empty(), Optional.empty()));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void fiveWrongPinsLockSigningForAWhileAndARightOneStartsTheCountAfresh(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person isolde = person("isolde", Role.INSTRUCTOR);
      people.add(isolde, Optional.empty(), Optional.of("2468"));

      for (int left = PeopleStore.PIN_TRIES - 1; left > 0; left--) {
        assertEquals(new Presence.Wrong(left), people.provePresence(isolde.id(), "0000"));
      }
      assertInstanceOf(Presence.Proven.class, people.provePresence(isolde.id(), "2468"));
      for (int i = 1; i < PeopleStore.PIN_TRIES; i++) {
        people.provePresence(isolde.id(), "0000");
      }
      assertInstanceOf(Presence.Locked.class, people.provePresence(isolde.id(), "0000"));
      assertInstanceOf(Presence.Locked.class, people.provePresence(isolde.id(), "2468"), "the right one too");
      now = START.plus(PeopleStore.PIN_LOCK).plusSeconds(1);
      assertInstanceOf(Presence.Proven.class, people.provePresence(isolde.id(), "2468"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aFirstCoordinatorsLinkWorksOnceAndNotAfterItsTime(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      String token = people.oneTimeLink("first", Duration.ofHours(1));
      String late = people.oneTimeLink("first", Duration.ofHours(1));

      assertFalse(people.addByLink("other purpose", token, person("a", Role.COORDINATOR), "river ledger"));
      assertTrue(people.addByLink("first", token, person("b", Role.COORDINATOR), "river ledger"));
      assertFalse(people.addByLink("first", token, person("c", Role.COORDINATOR), "river ledger"));
      now = START.plus(Duration.ofHours(1)).plusSeconds(1);
      assertFalse(people.isOpen("first", late));
      assertFalse(people.addByLink("first", late, person("d", Role.COORDINATOR), "river ledger"));
      assertEquals(List.of("b"), people.inRole(Role.COORDINATOR).stream().map(Person::signInName).toList());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCohortListsItsMembersByNameWithoutThoseWhoLeft(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      LocalDate start = LocalDate.of(2026, 9, 7);
      Cohort cohort = new Cohort(UUID.randomUUID(), "First year", "e1", start, start.plusMonths(9));
      people.add(cohort);
      for (String name : List.of("wren", "bram", "jory")) {
        Person p = person(name, Role.APPRENTICE);
        people.add(p, Optional.empty(), Optional.empty());
        people.join(cohort.id(), p.id(), start, Optional.of(start.plusWeeks(6)).filter(d -> name.equals("jory")));
      }
      List<String> there = people.members(cohort.id()).stream().map(Person::signInName).toList();
      List<String> ever = people.membersEver(cohort.id()).stream().map(Person::signInName).toList();
      assertEquals(List.of("bram", "wren"), there);
      assertEquals(List.of("bram", "jory", "wren"), ever);
      assertEquals(cohort, people.cohorts().get(0));
    }
  }
}

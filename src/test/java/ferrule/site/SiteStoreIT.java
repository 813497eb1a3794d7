package ferrule.site;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class SiteStoreIT {

  private static final Site NIGHT = new Site("night-bench", "Night bench");

  private static PeopleStore people(Database database) {
    return new PeopleStore(database, Clock.systemUTC());
  }

  private static void enrol(Database database, String fullName) {
    people(database).add(
        new Person(UUID.randomUUID(), "wren", fullName, Role.APPRENTICE, Optional.empty()), Optional.empty(),
        Optional.empty());
  }

  private static List<String> apprentices(Database database) {
    return people(database).inRole(Role.APPRENTICE).stream().map(Person::fullName).toList();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatIsKeptAtOneSiteIsNotThereAtAnother(Database database) {
    try (database) {
      SiteStore sites = new SiteStore(database, Clock.systemUTC());
      assertTrue(sites.add(NIGHT));
      Database night = sites.open(NIGHT);
      enrol(database, "Wren of the first site");
      enrol(night, "Wren of the night bench");
      assertEquals(List.of("Wren of the first site"), apprentices(database));
      assertEquals(List.of("Wren of the night bench"), apprentices(night));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void connectionsThatAreSharedNeverServeTheWrongSite(Database database) {
    try (database) {
      SiteStore sites = new SiteStore(database, Clock.systemUTC());
      List<Site> added = IntStream.range(0, 3).mapToObj(i -> new Site("site-" + i, "Site " + i)).toList();
      added.forEach(sites::add);
      List<Database> open = added.stream().map(sites::open).toList();
      IntStream.range(0, 3).forEach(i -> enrol(open.get(i), "Wren of site " + i));
      // many more at once than there are connections, some of them in transactions that fail
      List<CompletableFuture<Void>> visits = IntStream.range(0, 300).mapToObj(n -> CompletableFuture.runAsync(() -> {
        int i = n % 4;
        Database here = i == 3 ? database : open.get(i);
        assertEquals(i == 3 ? List.of() : List.of("Wren of site " + i), apprentices(here));
        assertThrows(IllegalStateException.class, () -> here.transact(dsl -> {
          assertEquals(i == 3 ? 0 : 1, dsl.fetchCount(ferrule.store.jooq.Tables.PERSON));
          throw new IllegalStateException("nothing of it is kept");
        }));
      })).toList();
      visits.forEach(CompletableFuture::join);
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theFirstSiteIsThereBeforeAnybodyNamesItAndKeepsItsTables(Database database) {
    try (database) {
      SiteStore sites = new SiteStore(database, Clock.systemUTC());
      assertEquals(List.of(new Site("main", "")), sites.all());
      enrol(database, "Wren Aldous");
      sites.rename(new Site("main", "Day bench"));
      sites.rename(new Site("main", "Day school"));
      assertEquals(List.of(new Site("main", "Day school")), sites.all());
      assertEquals(List.of("Wren Aldous"), apprentices(sites.open(sites.site("main").orElseThrow())));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aSiteAddedAtOneNodeIsSeenByAnother(Database database) {
    try (database) {
      SiteStore one = new SiteStore(database, Clock.systemUTC());
      SiteStore other = new SiteStore(database, Clock.systemUTC());
      assertEquals(Optional.empty(), other.site("night-bench"));
      one.add(NIGHT);
      assertEquals(Optional.of(NIGHT), other.site("night-bench"));
      assertEquals(List.of(), apprentices(other.open(NIGHT)));
      one.rename(new Site("night-bench", "Evening bench"));
      assertEquals("Evening bench", other.all().get(1).title());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void ofTwoWhoAddTheSameSiteAtOnceOneIsToldThatItIsThere(Database database) {
    try (database) {
      List<CompletableFuture<Boolean>> adding = IntStream.range(0, 4)
          .mapToObj(i -> CompletableFuture.supplyAsync(() -> new SiteStore(database, Clock.systemUTC()).add(NIGHT)))
          .toList();
      assertEquals(1, adding.stream().filter(CompletableFuture::join).count());
      assertFalse(new SiteStore(database, Clock.systemUTC()).add(new Site("main", "Another")), "the first is there");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "Night", "night_bench", "night--bench", "-night", "night-", "9bench", "a/b", "night bench"})
  void aNameThatCannotStandInAnAddressIsRefused(String name) {
    assertThrows(IllegalArgumentException.class, () -> new Site(name, "Night bench"));
  }

  @Test
  void aSiteWithoutATitleIsCalledByItsName() {
    assertEquals("night-bench", new Site("night-bench", "").called());
    assertEquals("Night bench", NIGHT.called());
  }
}

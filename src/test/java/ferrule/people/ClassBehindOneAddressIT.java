package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.HandClock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** Thirty apprentices and one attacker behind one address, by a clock that is moved by hand. */
class ClassBehindOneAddressIT {

  private static final int CLASS = 30;

  private final HandClock clock = new HandClock(Instant.parse("2026-11-25T18:00:00Z"));

  private final Database database = RealDatabases.h2();
  private final PeopleStore people = new PeopleStore(database, clock);

  private static Puzzle.Solution solved(Puzzle puzzle) {
    long number = 0;
    while (!puzzle.isSolvedBy(number)) {
      number++;
    }
    return new Puzzle.Solution(puzzle.id(), number);
  }

  private Entry enter(String name, String password, Optional<String> browser, Optional<Puzzle.Solution> solution) {
    return people.signIns().enter(new SignInStore.Try(name, password, browser, solution));
  }

  private List<Person> enrol() {
    List<Person> apprentices = new ArrayList<>();
    for (int i = 0; i < CLASS; i++) {
      Person p = new Person(UUID.randomUUID(), "a" + i, "Invented " + i, Role.APPRENTICE, Optional.empty());
      people.add(p, Optional.of("copper kettle " + i), Optional.empty());
      apprentices.add(p);
    }
    return apprentices;
  }

  /** Ten guesses for every name: those that are free, then as many as are refused unworked, then some worked out. */
  private int attack(List<Person> apprentices) {
    int looked = 0;
    for (Person victim : apprentices) {
      for (int i = 0; i < 9; i++) {
        looked += enter(victim.signInName(), "guess " + i, Optional.empty(), Optional.empty()) instanceof Entry.Wrong ? 1 : 0;
      }
      Entry asked = enter(victim.signInName(), "guess", Optional.empty(), Optional.empty());
      Puzzle puzzle = assertInstanceOf(Entry.WorkFirst.class, asked).puzzle();
      looked += enter(victim.signInName(), "guess", Optional.empty(), Optional.of(solved(puzzle))) instanceof Entry.Wrong ? 1 : 0;
    }
    return looked;
  }

  @Test
  void theAttackerIsSlowedAndEveryoneElseComesInAtTheFirstTry() {
    try (database) {
      List<Person> apprentices = enrol();
      List<String> browsers = apprentices.stream().limit(15).map(p -> people.signIns().remember(p.id(), Optional.empty())).toList();
      int looked = attack(apprentices);
      assertTrue(looked <= CLASS * (SignInPace.FREE + 1), "passwords that were looked at: " + looked);

      for (int i = 0; i < CLASS; i++) {
        Person p = apprentices.get(i);
        String password = "copper kettle " + i;
        Entry.Right in = new Entry.Right(p, false);
        if (i < browsers.size()) {
          assertEquals(in, enter(p.signInName(), password, Optional.of(browsers.get(i)), Optional.empty()), "own browser");
        } else {
          Entry asked = enter(p.signInName(), password, Optional.empty(), Optional.empty());
          Puzzle puzzle = assertInstanceOf(Entry.WorkFirst.class, asked).puzzle();
          assertTrue(puzzle.bits() <= 19, "a second or two of work, not " + puzzle.bits() + " bits");
          assertEquals(in, enter(p.signInName(), password, Optional.empty(), Optional.of(solved(puzzle))), "new browser");
        }
      }
    }
  }

  @Test
  void anHourLaterNobodyWorksForAnything() {
    try (database) {
      List<Person> apprentices = enrol().subList(0, 3);
      attack(apprentices);
      clock.pass(Duration.ofHours(1));
      for (int i = 0; i < apprentices.size(); i++) {
        Entry entry = enter(apprentices.get(i).signInName(), "copper kettle " + i, Optional.empty(), Optional.empty());
        assertEquals(new Entry.Right(apprentices.get(i), false), entry);
      }
    }
  }
}

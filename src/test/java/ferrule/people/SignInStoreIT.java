package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.web.HandClock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class SignInStoreIT {

  private final HandClock clock = new HandClock(Instant.parse("2026-11-25T18:00:00Z"));

  private Person add(PeopleStore people, String name) {
    Person person = new Person(UUID.randomUUID(), name, "Invented " + name, Role.APPRENTICE, Optional.empty());
    people.add(person, Optional.of("copper kettle"), Optional.empty());
    return person;
  }

  private static Entry guess(PeopleStore people, String name) {
    return people.signIns().enter(SignInStore.Try.of(name, "a wrong password"));
  }

  private static Puzzle.Solution solved(Puzzle puzzle) {
    long number = 0;
    while (!puzzle.isSolvedBy(number)) {
      number++;
    }
    return new Puzzle.Solution(puzzle.id(), number);
  }

  private static Entry enter(PeopleStore people, String name, Optional<Puzzle.Solution> solution) {
    return people.signIns().enter(new SignInStore.Try(name, "copper kettle", Optional.empty(), solution));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void afterSomeWrongOnesEachGuessCostsASumThatCountsOnceAndTheRightPasswordStillLetsIn(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      for (int i = 0; i < SignInPace.FREE; i++) {
        assertEquals(new Entry.Wrong(), guess(people, "wren"));
      }
      Puzzle puzzle = assertInstanceOf(Entry.WorkFirst.class, enter(people, "wren", Optional.empty())).puzzle();
      Puzzle.Solution solution = solved(puzzle);
      assertInstanceOf(
          Entry.WorkFirst.class, enter(people, "wren", Optional.of(new Puzzle.Solution(puzzle.id(), -1))), "not solved");
      assertInstanceOf(Entry.WorkFirst.class, enter(people, "wren", Optional.of(solution)), "used up by the try before");
      Puzzle second = assertInstanceOf(Entry.WorkFirst.class, enter(people, "wren", Optional.empty())).puzzle();
      assertEquals(new Entry.Right(wren, false), enter(people, "wren", Optional.of(solved(second))));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aNameThatNobodyHasIsAnsweredLikeAnyOther(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      for (int i = 0; i < SignInPace.FREE; i++) {
        assertEquals(new Entry.Wrong(), guess(people, "nobody"));
      }
      assertInstanceOf(Entry.WorkFirst.class, guess(people, "nobody"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void guessesMadeElsewhereDoNotTouchABrowserThatThePersonHasUsed(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      String browser = people.signIns().remember(wren.id(), Optional.empty());
      for (int i = 0; i < 20; i++) {
        guess(people, "wren");
      }
      SignInStore.Try own = new SignInStore.Try("wren", "copper kettle", Optional.of(browser), Optional.empty());
      assertEquals(new Entry.Right(wren, false), people.signIns().enter(own));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aBrowserThatThePersonHasUsedIsNoBetterThanAnyAfterTenWrongGuesses(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      String browser = people.signIns().remember(wren.id(), Optional.empty());
      SignInStore.Try wrong = new SignInStore.Try("wren", "a wrong password", Optional.of(browser), Optional.empty());
      for (int i = 0; i < SignInPace.KNOWN_BROWSER + SignInPace.FREE; i++) {
        assertEquals(new Entry.Wrong(), people.signIns().enter(wrong));
      }
      assertInstanceOf(Entry.WorkFirst.class, people.signIns().enter(wrong));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void guessesAreForgottenWithTime(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      for (int i = 0; i < SignInPace.FREE; i++) {
        guess(people, "wren");
      }
      clock.pass(SignInPace.LEAK);
      assertEquals(new Entry.Right(wren, false), enter(people, "wren", Optional.empty()));
      clock.pass(SignInPace.LEAK.multipliedBy(SignInPace.FREE));
      for (int i = 0; i < SignInPace.FREE; i++) {
        assertEquals(new Entry.Wrong(), guess(people, "wren"));
      }
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aPasswordIsAskedForWithoutTellingWhoHasAnAccount(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      people.signIns().wantPassword("Wren ");
      people.signIns().wantPassword("wren");
      people.signIns().wantPassword("nobody");
      assertEquals(java.util.Set.of(wren.id()), people.signIns().passwordsWanted().keySet());
      people.accept(people.invite(wren.id(), Duration.ofDays(1)), "grey heron stands");
      assertTrue(people.signIns().passwordsWanted().isEmpty(), "answered by the link");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aOneTimeCodeIsAskedForOnceItIsConfirmedAndEachCodeAndRecoveryCodeIsTakenOnce(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      SecondStepStore steps = people.secondSteps();
      OneTimeCode phone = steps.begin(wren.id()).orElseThrow();
      assertEquals(new Entry.Right(wren, false), enter(people, "wren", Optional.empty()), "not yet");
      assertTrue(steps.confirm(wren.id(), phone.at(clock.instant())));
      assertEquals(new Entry.Right(wren, true), enter(people, "wren", Optional.empty()));
      assertEquals(new SignInStore.CodeEntry.Wrong(), code(people, wren, phone.at(clock.instant())), "taken already");
      clock.pass(Duration.ofSeconds(30));
      assertEquals(new SignInStore.CodeEntry.Right(), code(people, wren, phone.at(clock.instant())));

      RecoveryCode paper = steps.newRecoveryCodes(wren.id()).get(3);
      String typed = paper.toString().toLowerCase(java.util.Locale.ROOT).replace('-', ' ');
      assertEquals(new SignInStore.CodeEntry.Right(), code(people, wren, typed));
      assertEquals(new SignInStore.CodeEntry.Wrong(), code(people, wren, typed));
      assertEquals(RecoveryCode.COUNT - 1, steps.recoveryCodesLeft(wren.id()));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void codesCannotBeTriedThrough(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = add(people, "wren");
      OneTimeCode phone = people.secondSteps().begin(wren.id()).orElseThrow();
      assertTrue(people.secondSteps().confirm(wren.id(), phone.at(clock.instant())));
      clock.pass(Duration.ofMinutes(1));
      for (int i = 0; i < SignInPace.CODES; i++) {
        assertEquals(new SignInStore.CodeEntry.Wrong(), code(people, wren, "00000" + i));
      }
      assertInstanceOf(SignInStore.CodeEntry.Wait.class, code(people, wren, phone.at(clock.instant())));
      String own = people.signIns().remember(wren.id(), Optional.empty());
      assertEquals(
          new SignInStore.CodeEntry.Right(),
          people.signIns().enterCode(wren.id(), phone.at(clock.instant()), Optional.of(own)),
          "not where the person has signed in before");
    }
  }

  private static SignInStore.CodeEntry code(PeopleStore people, Person person, String code) {
    return people.signIns().enterCode(person.id(), code, Optional.empty());
  }
}

package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.TreeHead;
import ferrule.ledger.Witnesses;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class RecordStoreTest {

  private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
  private static final Clock CLOCK = Clock.fixed(NOON, ZoneOffset.UTC);

  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person instructor = person("instructor", Role.INSTRUCTOR);
  private final Person other = person("other", Role.INSTRUCTOR);

  private BenchStore bench;
  private RecordStore records;
  private LedgerStore ledger;

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  private void fill(Database database) {
    PeopleStore people = new PeopleStore(database, CLOCK);
    List.of(apprentice, instructor, other).forEach(p -> people.add(p, Optional.empty(), Optional.empty()));
    bench = new BenchStore(database, CLOCK);
    records = new RecordStore(database, CLOCK);
    ledger = new LedgerStore(database);
  }

  private Draft draft(Person by, String tag) {
    return bench.open(
        by.id(), apprentice.id(), Samples.WATER_KEY, tag, Samples.soundWaterKey(), Optional.empty());
  }

  private Grade grade(Draft draft) {
    return Grade.of(apprentice.id(), apprentice.fullName(), Samples.waterKey(), draft.tag(), draft.entries());
  }

  private Signing sign(Draft draft, Person by) {
    return records.sign(draft, grade(draft), by, Samples.TASKS.edition());
  }

  private LoggedRecord signed(Draft draft, Person by) {
    return assertInstanceOf(Signing.Signed.class, sign(draft, by)).entry();
  }

  private List<SignedWork> counting(Instant upTo) {
    return SignedWork.after(records.about(List.of(apprentice.id()), upTo));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aSignedDraftIsARecordThatCanBeFoundAndCounts(Database database) {
    try (database) {
      fill(database);
      Draft draft = draft(instructor, "T-07");
      LoggedRecord entry = signed(draft, instructor);
      assertEquals(1, entry.number());
      assertEquals(Optional.of(entry), records.find(entry.id()));
      assertEquals(Optional.of(entry.id()), bench.draft(draft.id()).orElseThrow().signedRecord());
      assertEquals(List.of(), bench.openDrafts(instructor.id()));
      assertEquals(new LogCheck.Sound(entry.head()), ledger.check(Optional.empty()));
      SignedWork work = counting(NOON).get(0);
      assertEquals(instructor.id(), work.instructor());
      assertEquals(Standing.SOUND, work.standing());
      assertEquals(List.of(), counting(NOON.minusMillis(1)), "before it was signed nothing counted");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void oneDraftIsSignedOnce(Database database) {
    try (database) {
      fill(database);
      Draft draft = draft(instructor, "T-07");
      LoggedRecord entry = signed(draft, instructor);
      assertEquals(new Signing.SignedBefore(entry.id()), sign(draft, instructor));
      assertEquals(1, ledger.head().size());
      assertFalse(bench.keep(draft.id(), Entries.none()), "a signed draft is closed");
      assertFalse(bench.discard(draft.id()));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatHasChangedSinceItWasShownIsNotSigned(Database database) {
    try (database) {
      fill(database);
      Draft shown = draft(instructor, "T-07");
      Entries e = shown.entries();
      assertTrue(bench.keep(
          shown.id(), new Entries(true, Map.of("seat", 1), e.readings(), e.lowers(), e.uppers(), "", "")));
      assertEquals(new Signing.Changed(), sign(shown, instructor));
      Draft discarded = draft(instructor, "T-08");
      assertTrue(bench.discard(discarded.id()));
      assertEquals(new Signing.Changed(), sign(discarded, instructor));
      assertEquals(0, ledger.head().size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCorrectionTakesTheRecordsPlaceAndKeepsWhoSawTheWork(Database database) {
    try (database) {
      fill(database);
      LoggedRecord first = signed(draft(instructor, "T-07"), instructor);
      Entries e = Samples.soundWaterKey();
      Entries corrected = new Entries(
          true, Map.of("cup-clean", 3, "fit-in-cup", 4, "seat", 4, "seal", 1, "spring", 4), e.readings(), e.lowers(),
          e.uppers(), "", "The tester had been left open.");
      Draft draft = bench.open(
          other.id(), apprentice.id(), Samples.WATER_KEY, "T-07", corrected, Optional.of(first.id()));
      LoggedRecord second = signed(draft, other);
      assertEquals(BenchRecord.Correction.KIND, second.kind());
      assertEquals(Optional.of(second.id()), records.supersededBy(first.id()));
      List<SignedWork> counting = counting(NOON);
      assertEquals(1, counting.size());
      assertEquals(Standing.NOT_YET, counting.get(0).standing());
      assertEquals(instructor.id(), counting.get(0).instructor());

      Draft late = bench.open(
          instructor.id(), apprentice.id(), Samples.WATER_KEY, "T-07", corrected, Optional.of(first.id()));
      assertEquals(new Signing.TakenBefore(second.id()), sign(late, instructor));
      assertEquals(new Signing.TakenBefore(second.id()), records.withdraw(first, "Too late.", instructor, "e"));
      assertInstanceOf(Signing.Signed.class, records.withdraw(second, "Somebody else's work.", instructor, "e"));
      assertEquals(List.of(), counting(NOON));
      assertEquals(3, assertInstanceOf(LogCheck.Sound.class, ledger.check(Optional.of(first.head()))).head().size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void recordsFromElsewhereEnterInTheOrderOfTime(Database database) {
    try (database) {
      fill(database);
      records.append(Samples.signOff(apprentice.id(), instructor.id(), "T-01", NOON.plusSeconds(60)));
      BenchRecord earlier = Samples.signOff(apprentice.id(), instructor.id(), "T-02", NOON.plusSeconds(59));
      assertThrows(IllegalArgumentException.class, () -> records.append(earlier));
      LoggedRecord now = signed(draft(instructor, "T-03"), instructor);
      assertEquals(NOON.plusSeconds(60), now.at(), "a clock that is behind does not turn the log's time back");
      assertEquals(2, ledger.head().size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void instructorsWhoSignAtOnceLoseNothing(Database database) throws Exception {
    try (database) {
      fill(database);
      int each = 25;
      Draft contested = draft(instructor, "T-20");
      CyclicBarrier start = new CyclicBarrier(4);
      ExecutorService threads = Executors.newFixedThreadPool(4);
      List<Future<List<Signing>>> outcomes = new ArrayList<>();
      for (int t = 0; t < 4; t++) {
        Person by = t % 2 == 0 ? instructor : other;
        List<Draft> own = new ArrayList<>();
        for (int i = 0; i < each; i++) {
          own.add(draft(by, "T-" + t + "-" + i));
        }
        own.add(each / 2, contested);
        outcomes.add(threads.submit(() -> {
          start.await();
          return own.stream().map(d -> sign(d, by)).toList();
        }));
      }
      long signed = 0;
      for (Future<List<Signing>> outcome : outcomes) {
        signed += outcome.get().stream().filter(Signing.Signed.class::isInstance).count();
      }
      threads.shutdown();
      assertEquals(4 * each + 1, signed, "every draft once, the contested one once");
      LogCheck.Sound sound = assertInstanceOf(LogCheck.Sound.class, ledger.check(Optional.empty()));
      assertEquals(4 * each + 1, sound.head().size());
      assertEquals(ledger.head(), sound.head());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theLogIsReadWhileOthersSign(Database database) throws Exception {
    try (database) {
      fill(database);
      for (int i = 0; i < 20; i++) {
        signed(draft(instructor, "T-" + i), instructor);
      }
      ExecutorService thread = Executors.newSingleThreadExecutor();
      LogCheck check = new LogCheck(Witnesses.NONE);
      List<Long> seen = new ArrayList<>();
      Optional<TreeHead> head = ledger.read(entry -> {
        if (entry.number() == 3) {
          await(thread.submit(() -> signed(draft(other, "T-99"), other)));
        }
        seen.add(entry.number());
        check.accept(entry);
      });
      thread.shutdown();
      assertEquals(20, seen.size());
      assertInstanceOf(LogCheck.Sound.class, check.finish(head));
      assertEquals(21, ledger.head().size());
    }
  }

  private static void await(Future<?> work) {
    try {
      work.get();
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aTagNamesOneInstrument(Database database) {
    try (database) {
      fill(database);
      LoanInstrument one =
          new LoanInstrument(UUID.randomUUID(), "T-01", "trumpet", "student model", Optional.empty());
      assertTrue(bench.addIfNew(one));
      assertFalse(bench.addIfNew(new LoanInstrument(UUID.randomUUID(), "T-01", "trumpet", "other", Optional.empty())));
      assertEquals(List.of(one), bench.instruments());
      assertTrue(bench.retire(one.id(), ZoneOffset.UTC));
      assertFalse(bench.retire(one.id(), ZoneOffset.UTC));
      assertEquals(List.of(), bench.instruments());
      assertFalse(bench.addIfNew(one), "a tag is never given to another instrument");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void openDraftsAreOnesOwnAndTheLastWorkedOnComesFirst(Database database) {
    try (database) {
      fill(database);
      Draft first = draft(instructor, "T-01");
      draft(other, "T-02");
      BenchStore later = new BenchStore(database, Clock.offset(CLOCK, Duration.ofMinutes(1)));
      Draft second = later.open(
          instructor.id(), apprentice.id(), Samples.VALVES, "T-03", Entries.none(), Optional.empty());
      assertEquals(
          List.of(second.id(), first.id()), bench.openDrafts(instructor.id()).stream().map(Draft::id).toList());
    }
  }
}

package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.Procedure;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Two instructors and their apprentices at one bench: the queue, photos, second signatures, who may sign what. */
class BenchWorkTest {

  /** A clock that goes on by a second each time it is asked. */
  private static final class Ticking extends Clock {
    private Instant now = Instant.parse("2026-11-25T12:00:00Z");

    @Override
    public Instant instant() {
      now = now.plus(Duration.ofSeconds(1));
      return now;
    }

    @Override
    public ZoneId getZone() {
      return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
      return this;
    }
  }

  private final Clock clock = new Ticking();
  private final Person wren = person("wren", Role.APPRENTICE);
  private final Person bram = person("bram", Role.APPRENTICE);
  private final Person isolde = person("isolde", Role.INSTRUCTOR);
  private final Person tobias = person("tobias", Role.INSTRUCTOR);
  private BenchStore bench;
  private RecordStore records;
  private QueueStore queue;
  private PhotoStore photos;
  private AuthorityStore authorities;

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  private void over(Database database) {
    PeopleStore people = new PeopleStore(database, clock);
    List.of(wren, bram, isolde, tobias).forEach(p -> people.add(p, Optional.empty(), Optional.empty()));
    bench = new BenchStore(database, clock);
    records = new RecordStore(database, clock);
    queue = new QueueStore(database, clock);
    photos = new PhotoStore(database, clock);
    authorities = new AuthorityStore(database, clock);
  }

  private Draft draft(Person instructor, Person apprentice, Task task, Entries entries) {
    return bench.open(instructor.id(), apprentice.id(), task.id(), "T-07", entries, Optional.empty());
  }

  private Draft waterKeyDraft(Person instructor) {
    return draft(instructor, wren, Samples.waterKey(), Samples.soundWaterKey());
  }

  private Signing sign(Draft draft, Person instructor) {
    return records.sign(draft, grade(draft), instructor, "edition");
  }

  private Grade grade(Draft draft) {
    Task task = Samples.TASKS.find(draft.task()).orElseThrow();
    return Grade.of(draft.apprentice(), "Invented", task, draft.tag(), draft.entries(), photos.of(draft.id()));
  }

  private List<SignedWork> counting() {
    return SignedWork.after(records.about(List.of(wren.id()), Instant.parse("2027-01-01T00:00:00Z")));
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theSameWorkIsNotSignedByTwoWhoGradeItAtOnce(Database database) {
    try (database) {
      over(database);
      Draft first = waterKeyDraft(isolde);
      Draft second = waterKeyDraft(tobias);
      assertEquals(List.of(second.id()), bench.sameWork(first).stream().map(Draft::id).toList());
      UUID record = assertInstanceOf(Signing.Signed.class, sign(first, isolde)).entry().id();
      assertEquals(new Signing.SignedByAnother(record), sign(second, tobias));
      assertEquals(second, bench.draft(second.id()).orElseThrow(), "nothing of the other's is lost");
      assertEquals(1, records.size());
      assertInstanceOf(Signing.Signed.class, records.signAnotherPiece(second, grade(second), tobias, "edition"));
      Draft later = waterKeyDraft(tobias);
      assertInstanceOf(Signing.Signed.class, sign(later, tobias), "what is begun later is another piece of work");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void workThatCanHurtCountsFromTheSecondSignatureOn(Database database) {
    try (database) {
      over(database);
      Task clean = Samples.TASKS.find(TaskId.of("chemical-clean")).orElseThrow();
      Entries entries = Samples.best(clean);
      LoggedRecord first =
          assertInstanceOf(Signing.Signed.class, sign(draft(isolde, wren, clean, entries), isolde)).entry();
      assertTrue(first.record().grade().orElseThrow().secondSignature());
      assertEquals(List.of(first.id()), records.awaitingSecond().stream().map(LoggedRecord::id).toList());
      assertEquals(List.of(), counting(), "one signature is not enough");
      assertThrows(IllegalArgumentException.class, () -> records.signSecond(first, isolde, "edition"));

      LoggedRecord second =
          assertInstanceOf(Signing.Signed.class, records.signSecond(first, tobias, "edition")).entry();
      assertEquals(new Signing.SignedBefore(second.id()), records.signSecond(first, tobias, "edition"));
      assertEquals(Optional.of(second), records.secondOf(first.id()));
      assertEquals(List.of(), records.awaitingSecond());
      assertEquals(List.of(first.id()), counting().stream().map(SignedWork::record).toList());
      records.withdraw(first, "Wrong bath.", isolde, "edition");
      assertEquals(List.of(), counting());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCorrectedRecordAsksForItsSecondSignatureAnew(Database database) {
    try (database) {
      over(database);
      Task clean = Samples.TASKS.find(TaskId.of("chemical-clean")).orElseThrow();
      LoggedRecord first =
          assertInstanceOf(Signing.Signed.class, sign(draft(isolde, wren, clean, Samples.best(clean)), isolde)).entry();
      records.signSecond(first, tobias, "edition");
      Entries why = new Entries(
          true, Samples.best(clean).levels(), Samples.best(clean).readings(), Samples.best(clean).lowers(),
          Samples.best(clean).uppers(), "", "Wrong bath.");
      Draft correction =
          bench.open(isolde.id(), wren.id(), clean.id(), "T-07", why, Optional.of(first.id()));
      LoggedRecord corrected = assertInstanceOf(Signing.Signed.class, sign(correction, isolde)).entry();
      assertEquals(List.of(), counting());
      assertEquals(List.of(corrected.id()), records.awaitingSecond().stream().map(LoggedRecord::id).toList());
      assertEquals(new Signing.TakenBefore(corrected.id()), withdrawn(first));
    }
  }

  private Signing withdrawn(LoggedRecord record) {
    return records.withdraw(record, "Again.", isolde, "edition");
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatWasReadBeforeAnApprenticeWasErasedDoesNotWriteTheNameDownAgain(Database database) {
    try (database) {
      over(database);
      Task clean = Samples.TASKS.find(TaskId.of("chemical-clean")).orElseThrow();
      LoggedRecord cleaned =
          assertInstanceOf(Signing.Signed.class, sign(draft(isolde, wren, clean, Samples.best(clean)), isolde)).entry();
      LoggedRecord cork = assertInstanceOf(Signing.Signed.class, sign(waterKeyDraft(tobias), tobias)).entry();
      Draft begun = waterKeyDraft(isolde);
      Grade shown = grade(begun);

      database.dsl().execute(
          "update person set full_name = 'Erased person X', erased_at = current_timestamp where id = ?", wren.id());
      assertEquals(new Signing.Changed(), records.sign(begun, shown, isolde, "edition"));
      for (Signing after : List.of(
          records.signSecond(cleaned, tobias, "edition"), records.withdraw(cork, "Wrong apprentice.", tobias, "edition"))) {
        BenchRecord written = assertInstanceOf(Signing.Signed.class, after).entry().record();
        assertEquals("Erased person X", written.apprenticeName());
      }
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theQueueKeepsItsOrderAndNobodyIsGradedTwice(Database database) {
    try (database) {
      over(database);
      assertTrue(queue.ask(bram.id(), Samples.VALVES, "T-02"));
      assertTrue(queue.ask(wren.id(), Samples.WATER_KEY, "T-07"));
      assertFalse(queue.ask(wren.id(), Samples.WATER_KEY, "T-07"), "once is enough");
      CheckRequest first = queue.waiting().get(0);
      assertEquals(List.of("Invented bram", "Invented wren"), queue.waiting().stream().map(CheckRequest::apprenticeName).toList());

      Draft draft = draft(isolde, bram, Samples.valves(), Entries.none());
      assertTrue(queue.take(first.id(), draft.id()));
      assertFalse(queue.take(first.id(), draft(tobias, bram, Samples.valves(), Entries.none()).id()));
      assertEquals(Optional.of("Invented isolde"), queue.waiting().get(0).takenBy());
      assertFalse(queue.withdraw(first.id(), bram.id()), "it is being graded");
      bench.discard(draft.id());
      assertEquals(Optional.empty(), queue.waiting().get(0).takenBy(), "it waits again in its old place");
      assertFalse(queue.withdraw(first.id(), wren.id()), "one's own only");
      assertTrue(queue.withdraw(first.id(), bram.id()));

      CheckRequest second = queue.waiting().get(0);
      Draft graded = waterKeyDraft(tobias);
      assertTrue(queue.take(second.id(), graded.id()));
      assertInstanceOf(Signing.Signed.class, sign(graded, tobias));
      assertEquals(List.of(), queue.waiting(), "signed is out of the queue");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aPhotoEntersTheSignedRecordByItsHashAndASwapIsFound(Database database) {
    try (database) {
      over(database);
      CleanPhoto photo = CleanPhoto.of(CleanPhotoTest.picture("png", 60, 40));
      Draft draft = waterKeyDraft(isolde);
      Grade shown = grade(draft);
      assertTrue(photos.add(draft.id(), photo));
      assertTrue(photos.add(draft.id(), photo));
      assertEquals(List.of(photo.photo()), photos.of(draft.id()));
      assertEquals(new Signing.Changed(), records.sign(draft, shown, isolde, "edition"), "shown without the photo");
      LoggedRecord record = assertInstanceOf(Signing.Signed.class, sign(draft, isolde)).entry();
      assertEquals(List.of(photo.photo()), record.record().grade().orElseThrow().photos());
      assertTrue(record.entry().body().contains(photo.photo().sha256()));
      assertFalse(photos.add(draft.id(), CleanPhoto.of(CleanPhotoTest.picture("png", 61, 40))), "signed is closed");
      assertFalse(photos.remove(draft.id(), photo.photo().sha256()));

      assertEquals(Optional.empty(), photos.faultOf(photo.photo()));
      database.dsl().execute("update photo set jpeg = ?", (Object) new byte[] {1, 2, 3});
      assertTrue(photos.faultOf(photo.photo()).orElseThrow().contains("another picture"));
      database.dsl().execute("delete from photo");
      assertTrue(photos.faultOf(photo.photo()).orElseThrow().contains("is gone"));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void anInstructorSignsWithinTheirAuthority(Database database) {
    try (database) {
      over(database);
      Task clean = Samples.TASKS.find(TaskId.of("chemical-clean")).orElseThrow();
      Task mouthpiece = Samples.TASKS.find(TaskId.of("stuck-mouthpiece")).orElseThrow();
      assertTrue(authorities.of(isolde.id()).covers(clean), "everything as long as nobody has said otherwise");
      authorities.give(
          isolde.id(), new Authority(Map.of(Procedure.Area.CLEANING_AND_FREEING, Task.Level.BASIC)), tobias.id());
      Authority given = authorities.of(isolde.id());
      assertTrue(given.covers(mouthpiece));
      assertFalse(given.covers(clean));
      assertFalse(given.covers(Samples.waterKey()));
      assertTrue(given.refusalOf(clean).contains("ends at basic work"));
      assertTrue(given.refusalOf(Samples.waterKey()).contains("no authority"));
      authorities.give(isolde.id(), Authority.everything(), tobias.id());
      assertTrue(authorities.of(isolde.id()).covers(clean));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void ownLimitsAreRemembered(Database database) {
    try (database) {
      over(database);
      assertEquals(Entries.none(), bench.lastLimits(isolde.id(), Samples.WATER_KEY));
      sign(waterKeyDraft(isolde), isolde);
      Entries remembered = bench.lastLimits(isolde.id(), Samples.WATER_KEY);
      assertEquals(Map.of("opening", "2"), remembered.lowers());
      assertEquals(Map.of(), remembered.readings());
      assertEquals(Entries.none(), bench.lastLimits(tobias.id(), Samples.WATER_KEY));
    }
  }
}

package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.device.Device;
import ferrule.device.DeviceStore;
import ferrule.device.Envelope;
import ferrule.device.Receipt;
import ferrule.device.Reception;
import ferrule.device.SealingDevice;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.Proofs;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.web.HandClock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What becomes of grades that were signed without a network, whatever happened meanwhile, on both databases. */
class GradeReceiverIT {

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Instant MORNING = Instant.parse("2026-11-25T08:00:00Z");

  /** A school with two instructors, of whom the first took a device along in the morning. */
  private static final class School implements AutoCloseable {

    final HandClock clock = new HandClock(MORNING);
    final Database database;
    final PeopleStore people;
    final Person apprentice = person("wren", Role.APPRENTICE);
    final Person instructor = person("isolde", Role.INSTRUCTOR);
    final Person other = person("tobias", Role.INSTRUCTOR);
    final BenchStore drafts;
    final RecordStore records;
    final DeviceStore devices;
    final Bench bench;
    final Reception reception;
    final SealingDevice device;

    School(Database database) {
      this.database = database;
      people = new PeopleStore(database, clock);
      people.add(apprentice, Optional.empty(), Optional.empty());
      people.add(instructor, Optional.empty(), Optional.of("2468"));
      people.add(other, Optional.empty(), Optional.of("1357"));
      drafts = new BenchStore(database, clock);
      records = new RecordStore(database, clock);
      bench = bench(Samples.TASKS);
      devices = new DeviceStore(database, clock);
      reception = reception(bench);
      device = SealingDevice.known(devices, instructor.id());
      devices.proven(device.id(), instructor.id());
    }

    Bench bench(TaskBook tasks) {
      return new Bench(
          tasks, drafts, records, new PhotoStore(database, clock), new QueueStore(database, clock),
          new BlindStore(database, clock), new AuthorityStore(database, clock), people,
          new Proofs(new LedgerStore(database), new HeadStore(database, HeadSigner.passing(), clock)), ZoneOffset.UTC);
    }

    Reception reception(Bench bench) {
      return new Reception(devices, List.of(new GradeReceiver(bench, devices)), clock);
    }

    private static Person person(String name, Role role) {
      return new Person(UUID.randomUUID(), name + UUID.randomUUID(), "Invented " + name, role, Optional.empty());
    }

    /** What the device says of a water key, begun and signed on it now. */
    ObjectNode said(UUID draft, String tag) {
      ObjectNode root = JSON.createObjectNode();
      root.put("draft", draft.toString()).put("apprentice", apprentice.id().toString());
      root.put("task", Samples.WATER_KEY.value()).put("tag", tag).put("corrects", "");
      root.put("knownAt", MORNING.toString()).put("base", "");
      try {
        root.set("entries", JSON.readTree(Samples.soundWaterKey().toJson()));
      } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
        throw new IllegalStateException(e);
      }
      root.putArray("herePhotos");
      root.put("edition", Samples.TASKS.edition()).put("criteriaAre", Material.fingerprint(Samples.waterKey()));
      ObjectNode shown = root.putObject("shown").put("standing", "sound");
      ObjectNode states = shown.putObject("states");
      List.of("cup-clean", "fit-in-cup", "seat", "seal", "spring", "opening").forEach(c -> states.put(c, "good"));
      root.put("signedAt", clock.instant().toString());
      return root;
    }

    Envelope signed(ObjectNode said, String pin) {
      return device.seal(GradeReceiver.SIGNED, said.toString(), pin, List.of());
    }

    Receipt bring(Envelope envelope) {
      return reception.receive(envelope).orElseThrow();
    }

    Receipt bring(ObjectNode said) {
      return bring(signed(said, "2468"));
    }

    long size() {
      return records.size();
    }

    /** That it was held with these words, nothing entered, and the grade is an open draft. */
    void held(Receipt receipt, String words) {
      assertEquals(Receipt.State.HELD, receipt.state(), receipt.words());
      assertTrue(receipt.words().contains(words), receipt.words());
      Draft draft = drafts.draft(receipt.subject().orElseThrow()).orElseThrow();
      assertTrue(draft.signedRecord().isEmpty());
      assertEquals(Samples.soundWaterKey(), draft.entries());
      assertEquals(receipt.words(), devices.heldWords(List.of(draft.id())).get(draft.id()));
      assertEquals(instructor.id(), draft.instructor());
    }

    @Override
    public void close() {
      LogCheck.Result check = new LedgerStore(database).check(Optional.empty());
      assertTrue(check instanceof LogCheck.Sound, check.toString());
      database.close();
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void itEntersOnceWithBothTimesHoweverOftenAndAtOnceItIsBrought(Database database) throws Exception {
    try (School school = new School(database)) {
      school.clock.pass(Duration.ofHours(1));
      Envelope envelope = school.signed(school.said(UUID.randomUUID(), "T-07"), "2468");
      school.clock.pass(Duration.ofHours(3));
      ExecutorService tabs = Executors.newFixedThreadPool(6);
      List<Callable<Receipt>> same = new ArrayList<>();
      for (int i = 0; i < 6; i++) {
        same.add(() -> school.bring(envelope));
      }
      for (var receipt : tabs.invokeAll(same)) {
        assertEquals(Receipt.State.ENTERED, receipt.get().state(), receipt.get().words());
      }
      tabs.shutdown();
      assertEquals(1, school.size());
      assertEquals(Receipt.State.ENTERED, school.bring(envelope).state());
      assertEquals(1, school.size());
      LoggedRecord record = school.records.latest(1).get(0);
      OnDevice onDevice = record.record().signature().onDevice().orElseThrow();
      assertEquals(MORNING.plus(Duration.ofHours(1)), onDevice.signedAt());
      assertEquals(MORNING.plus(Duration.ofHours(4)), onDevice.receivedAt());
      assertEquals(MORNING.plus(Duration.ofHours(4)), record.at(), "it counts from the receipt");
      assertTrue(record.entry().body().contains("\"withoutNetwork\":{"), "both stand in the signed statement");
      assertEquals(record.record(), RecordJson.read(record.entry().body()));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatWasSealedEarlierComesFirst(Database database) {
    try (School school = new School(database)) {
      Envelope first = school.signed(school.said(UUID.randomUUID(), "T-07"), "2468");
      Envelope second = school.signed(school.said(UUID.randomUUID(), "T-08"), "2468");
      assertEquals(Receipt.State.AGAIN, school.bring(second).state());
      assertEquals(0, school.size());
      assertEquals(Receipt.State.ENTERED, school.bring(first).state());
      assertEquals(Receipt.State.ENTERED, school.bring(second).state());
      assertEquals(2, school.size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aWrongPinCountsAsATryAndALockedOneIsBroughtAgain(Database database) {
    try (School school = new School(database)) {
      for (int i = 0; i < PeopleStore.PIN_TRIES - 1; i++) {
        school.held(school.bring(school.signed(school.said(UUID.randomUUID(), "T-07"), "0000")), "PIN");
      }
      Envelope last = school.signed(school.said(UUID.randomUUID(), "T-07"), "0001");
      assertEquals(Receipt.State.AGAIN, school.bring(last).state(), "guessing ends as it does online");
      assertEquals(0, school.size());
      Envelope right = school.signed(school.said(UUID.randomUUID(), "T-08"), "2468");
      school.clock.pass(PeopleStore.PIN_LOCK.plusSeconds(1));
      school.held(school.bring(last), "PIN");
      assertEquals(Receipt.State.ENTERED, school.bring(right).state());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatHappenedMeanwhileIsToldInWords(Database database) {
    try (School school = new School(database)) {
      Draft theirs = school.drafts.open(
          school.other.id(), school.apprentice.id(), Samples.WATER_KEY, "T-07", Samples.soundWaterKey(), Optional.empty());
      school.clock.pass(Duration.ofHours(1));
      school.records.sign(theirs, Samples.soundGrade(school.apprentice.id(), "T-07"), school.other, "e");
      school.held(school.bring(school.said(UUID.randomUUID(), "T-07")), "Invented tobias signed this task");

      new AuthorityStore(database, school.clock).give(
          school.instructor.id(), new Authority(Map.of()), school.other.id());
      school.held(school.bring(school.said(UUID.randomUUID(), "T-08")), "You have no authority");
      school.clock.pass(Duration.ofSeconds(1));
      new AuthorityStore(database, school.clock).give(
          school.instructor.id(), Authority.everything(), school.other.id());

      ObjectNode older = school.said(UUID.randomUUID(), "T-09");
      older.put("criteriaAre", "of another edition");
      school.held(school.bring(older), "another edition");

      ObjectNode otherwise = school.said(UUID.randomUUID(), "T-09");
      ((ObjectNode) otherwise.get("shown")).put("standing", "fine");
      school.held(school.bring(otherwise), "another verdict");

      school.people.leave(school.apprentice.id(), LocalDate.of(2026, 11, 25));
      school.held(school.bring(school.said(UUID.randomUUID(), "T-10")), "left the programme on 25 November 2026");
      school.people.comeBack(school.apprentice.id());
      assertEquals(Receipt.State.ENTERED, school.bring(school.said(UUID.randomUUID(), "T-11")).state());
      assertEquals(2, school.size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aCorrectionThatSomebodyElseMadeFirstStands(Database database) {
    try (School school = new School(database)) {
      Draft draft = school.drafts.open(
          school.instructor.id(), school.apprentice.id(), Samples.WATER_KEY, "T-07", Samples.soundWaterKey(), Optional.empty());
      Signing.Signed first = (Signing.Signed) school.records.sign(
          draft, Samples.soundGrade(school.apprentice.id(), "T-07"), school.instructor, "e");
      school.records.withdraw(first.entry(), "wrong apprentice", school.other, "e");
      ObjectNode said = school.said(UUID.randomUUID(), "T-07");
      said.put("corrects", first.entry().id().toString());
      ((ObjectNode) said.get("entries")).put("reason", "misread");
      Receipt receipt = school.bring(said);
      assertEquals(Receipt.State.HELD, receipt.state());
      assertTrue(receipt.words().contains("corrected or withdrawn meanwhile, by record 2"), receipt.words());
      assertEquals(2, school.size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void theSameDraftOnTwoTabletsIsSignedOnceAndTheOtherGradeIsKept(Database database) {
    try (School school = new School(database)) {
      Draft draft = school.drafts.open(
          school.instructor.id(), school.apprentice.id(), Samples.WATER_KEY, "T-07", Entries.none(), Optional.empty());
      ObjectNode said = school.said(draft.id(), "T-07");
      said.put("base", Material.base(Entries.none()));
      SealingDevice second = SealingDevice.known(school.devices, school.instructor.id());
      school.devices.proven(second.id(), school.instructor.id());
      Entries differs = new Entries(
          true, Map.of("cup-clean", 4, "fit-in-cup", 4, "seat", 4, "seal", 2, "spring", 4), Map.of("opening", "2,5"),
          Map.of("opening", "2"), Map.of("opening", "4.0"), "Seen again.", "");
      assertEquals(Receipt.State.ENTERED, school.bring(said).state());
      ObjectNode again = said.deepCopy();
      again.set("entries", json(differs));
      Receipt receipt = school.bring(second.seal(GradeReceiver.SIGNED, again.toString(), "2468", List.of()));
      assertEquals(Receipt.State.HELD, receipt.state());
      assertTrue(receipt.words().contains("You had signed this draft elsewhere already: record 1"), receipt.words());
      assertEquals(differs, school.drafts.draft(receipt.subject().orElseThrow()).orElseThrow().entries());
      assertEquals(1, school.size());
      Receipt same = school.bring(second.seal(GradeReceiver.SIGNED, said.toString(), "2468", List.of()));
      assertEquals(Receipt.State.ENTERED, same.state(), "the very same grade is signed already");
      assertEquals(1, school.size());
    }
  }

  private static com.fasterxml.jackson.databind.JsonNode json(Entries entries) {
    try {
      return JSON.readTree(entries.toJson());
    } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aDraftThatWasChangedOrPutAsideElsewhereIsNotOverwritten(Database database) {
    try (School school = new School(database)) {
      Draft draft = school.drafts.open(
          school.instructor.id(), school.apprentice.id(), Samples.WATER_KEY, "T-07", Entries.none(), Optional.empty());
      ObjectNode said = school.said(draft.id(), "T-07");
      said.put("base", Material.base(Entries.none()));
      Entries here = Entries.none().withCautionsConfirmed();
      school.drafts.keep(draft.id(), here);
      school.held(school.bring(said), "changed elsewhere");
      assertEquals(here, school.drafts.draft(draft.id()).orElseThrow().entries(), "both are kept");
      school.drafts.discard(draft.id());
      school.held(
          school.bring(school.device.seal(GradeReceiver.DRAFT, said.toString(), "", List.of())), "put aside elsewhere");
      assertEquals(0, school.size());
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aStolenTabletEntersNothingOnceItIsGivenUpNorAfterItsTimeNorWithoutProof(Database database) {
    try (School school = new School(database)) {
      SealingDevice unproven = SealingDevice.known(school.devices, school.instructor.id());
      school.held(
          school.bring(unproven.seal(GradeReceiver.SIGNED, school.said(UUID.randomUUID(), "T-07").toString(), "2468", List.of())),
          "You had not proved with your PIN");
      school.clock.pass(Device.SIGNS_FOR.plusHours(1));
      school.held(school.bring(school.said(UUID.randomUUID(), "T-07")), "after the time");
      ObjectNode ahead = school.said(UUID.randomUUID(), "T-07");
      ahead.put("signedAt", school.clock.instant().plusSeconds(3_600).toString());
      school.held(school.bring(ahead), "clock");
      school.devices.proven(school.device.id(), school.instructor.id());
      school.devices.close(school.device.id(), school.instructor.id());
      school.held(school.bring(school.said(UUID.randomUUID(), "T-07")), "given up");
      assertEquals(0, school.size());
      assertTrue(school.reception.receive(
          new SealingDevice(UUID.randomUUID(), school.devices.find(school.device.id()).orElseThrow().sealKey())
              .seal(GradeReceiver.SIGNED, "{}", "", List.of())).isEmpty(), "a device that nobody knows");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whatCannotBeReadHoldsUpNothing(Database database) {
    try (School school = new School(database)) {
      Envelope good = school.signed(school.said(UUID.randomUUID(), "T-07"), "2468");
      byte[] broken = good.sealed().clone();
      broken[0] ^= 1;
      Receipt unreadable = school.bring(
          new Envelope(good.id(), good.device(), good.seq(), good.kind(), good.key(), good.iv(), broken));
      assertEquals(Receipt.State.HELD, unreadable.state());
      for (String nonsense : List.of("{}", "{\"draft\":\"x\"}", "{\"draft\":\"" + UUID.randomUUID() + "\",\"entries\":[]}")) {
        assertEquals(
            Receipt.State.HELD,
            school.bring(school.device.seal(GradeReceiver.SIGNED, nonsense, "2468", List.of())).state());
      }
      assertEquals(Receipt.State.ENTERED, school.bring(school.said(UUID.randomUUID(), "T-08")).state());
      assertEquals(1, school.size());
    }
  }
}

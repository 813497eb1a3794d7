package ferrule.device;

import static ferrule.store.jooq.Tables.DEVICE_DELIVERY;
import static ferrule.store.jooq.Tables.KNOWN_DEVICE;

import ferrule.store.Database;
import ferrule.store.jooq.tables.records.KnownDeviceRecord;
import java.time.Clock;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jooq.Record;
import org.jooq.impl.DSL;

/** The browsers that are known, and what came from them, in the database. */
public final class DeviceStore {

  private final Database database;
  private final Clock clock;

  /** A store over this database that takes the time from this clock. */
  public DeviceStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  /** A device with the key that opens what it sealed. */
  record Kept(Device device, String openKey) {}

  /**
   * Makes a browser known.
   *
   * @param verifyKey its public key
   * @throws IllegalArgumentException if that is no key on P-256
   */
  public Device open(UUID person, String verifyKey) {
    if (!Seals.isKey(verifyKey)) {
      throw new IllegalArgumentException("a device gives a public key on P-256");
    }
    Seals.Keys keys = Seals.newKeys();
    Device device = new Device(
        UUID.randomUUID(), person, verifyKey, keys.sealKey(), clock.instant(), Optional.empty(), Optional.empty(),
        Optional.empty());
    database.dsl().insertInto(KNOWN_DEVICE)
        .set(KNOWN_DEVICE.ID, device.id())
        .set(KNOWN_DEVICE.PERSON_ID, person)
        .set(KNOWN_DEVICE.OPENED_AT, device.openedAt())
        .set(KNOWN_DEVICE.VERIFY_KEY, verifyKey)
        .set(KNOWN_DEVICE.OPEN_KEY, keys.openKey())
        .set(KNOWN_DEVICE.SEAL_KEY, keys.sealKey())
        .execute();
    return device;
  }

  /**
   * Notes that a device's person proved presence and takes it along for {@link Device#SIGNS_FOR}.
   *
   * @return the device; empty, with nothing changed, if it is not theirs or was given up
   */
  public Optional<Device> proven(UUID device, UUID person) {
    Instant now = clock.instant();
    int changed = database.dsl().update(KNOWN_DEVICE)
        .set(KNOWN_DEVICE.PROVEN_AT, now)
        .set(KNOWN_DEVICE.SIGNS_UNTIL, now.plus(Device.SIGNS_FOR))
        .where(KNOWN_DEVICE.ID.eq(device)).and(KNOWN_DEVICE.PERSON_ID.eq(person)).and(KNOWN_DEVICE.CLOSED_AT.isNull())
        .execute();
    return changed == 1 ? find(device) : Optional.empty();
  }

  /** Ends the time for which a device of this person was taken along; what was signed on it before is still entered. */
  public void end(UUID device, UUID person) {
    Instant now = clock.instant();
    database.dsl().update(KNOWN_DEVICE).set(KNOWN_DEVICE.SIGNS_UNTIL, now)
        .where(KNOWN_DEVICE.ID.eq(device)).and(KNOWN_DEVICE.PERSON_ID.eq(person)).and(KNOWN_DEVICE.SIGNS_UNTIL.gt(now))
        .execute();
  }

  /** Gives a device of this person up, such as a lost one: from now on nothing that comes from it is entered. */
  public void close(UUID device, UUID person) {
    database.dsl().update(KNOWN_DEVICE).set(KNOWN_DEVICE.CLOSED_AT, clock.instant())
        .where(KNOWN_DEVICE.ID.eq(device)).and(KNOWN_DEVICE.PERSON_ID.eq(person)).and(KNOWN_DEVICE.CLOSED_AT.isNull())
        .execute();
  }

  /** The device with this id, if there is one. */
  public Optional<Device> find(UUID device) {
    return kept(device).map(Kept::device);
  }

  Optional<Kept> kept(UUID device) {
    return database.dsl().selectFrom(KNOWN_DEVICE).where(KNOWN_DEVICE.ID.eq(device))
        .fetchOptional(row -> new Kept(toDevice(row), row.getOpenKey()));
  }

  /** The devices on which this person may sign now, or which may still bring what was signed, the latest first. */
  public List<Device> takenAlong(UUID person) {
    return database.dsl().selectFrom(KNOWN_DEVICE)
        .where(KNOWN_DEVICE.PERSON_ID.eq(person)).and(KNOWN_DEVICE.PROVEN_AT.isNotNull())
        .and(KNOWN_DEVICE.CLOSED_AT.isNull())
        .orderBy(KNOWN_DEVICE.PROVEN_AT.desc())
        .limit(6)
        .fetch(DeviceStore::toDevice);
  }

  private static Device toDevice(KnownDeviceRecord row) {
    return new Device(
        row.getId(), row.getPersonId(), row.getVerifyKey(), row.getSealKey(), row.getOpenedAt(),
        Optional.ofNullable(row.getProvenAt()), Optional.ofNullable(row.getSignsUntil()),
        Optional.ofNullable(row.getClosedAt()));
  }

  /** What became of an envelope; empty if it has not been received. */
  Optional<Receipt> receipt(UUID envelope) {
    return database.dsl().selectFrom(DEVICE_DELIVERY).where(DEVICE_DELIVERY.ID.eq(envelope))
        .fetchOptional(DeviceStore::toReceipt);
  }

  private static Receipt toReceipt(Record row) {
    return new Receipt(
        Receipt.State.parse(row.get(DEVICE_DELIVERY.STATE)), row.get(DEVICE_DELIVERY.WORDS), row.get(DEVICE_DELIVERY.LINK),
        Optional.ofNullable(row.get(DEVICE_DELIVERY.SUBJECT_ID)));
  }

  /** The place of the last envelope that was received from a device; 0 if none was. */
  int lastSeq(UUID device) {
    return database.dsl().select(DSL.coalesce(DSL.max(DEVICE_DELIVERY.SEQ), 0)).from(DEVICE_DELIVERY)
        .where(DEVICE_DELIVERY.DEVICE_ID.eq(device)).fetchSingle().value1();
  }

  /** Notes what became of an envelope, and returns it; if that was noted before, what was noted then. */
  Receipt note(Envelope envelope, Instant at, Receipt receipt, String statement, String signature) {
    database.dsl().insertInto(DEVICE_DELIVERY)
        .set(DEVICE_DELIVERY.ID, envelope.id())
        .set(DEVICE_DELIVERY.DEVICE_ID, envelope.device())
        .set(DEVICE_DELIVERY.SEQ, envelope.seq())
        .set(DEVICE_DELIVERY.KIND, envelope.kind())
        .set(DEVICE_DELIVERY.RECEIVED_AT, at)
        .set(DEVICE_DELIVERY.STATE, receipt.state().word())
        .set(DEVICE_DELIVERY.WORDS, receipt.words())
        .set(DEVICE_DELIVERY.LINK, receipt.link())
        .set(DEVICE_DELIVERY.SUBJECT_ID, receipt.subject().orElse(null))
        .set(DEVICE_DELIVERY.STATEMENT, statement)
        .set(DEVICE_DELIVERY.SIGNATURE, signature)
        .onConflictDoNothing()
        .execute();
    return receipt(envelope.id()).orElse(receipt);
  }

  /** What is said of these drafts or sittings by what was held, the latest of each. */
  public Map<UUID, String> heldWords(Collection<UUID> subjects) {
    return database.dsl().select(DEVICE_DELIVERY.SUBJECT_ID, DEVICE_DELIVERY.WORDS).from(DEVICE_DELIVERY)
        .where(DEVICE_DELIVERY.SUBJECT_ID.in(subjects)).and(DEVICE_DELIVERY.STATE.eq(Receipt.State.HELD.word()))
        .orderBy(DEVICE_DELIVERY.RECEIVED_AT, DEVICE_DELIVERY.SEQ)
        .fetch().stream()
        .collect(java.util.stream.Collectors.toMap(row -> row.value1(), row -> row.value2(), (a, b) -> b));
  }

  /** The drafts or sittings that something from this device was about. */
  public Set<UUID> subjects(UUID device) {
    return Set.copyOf(
        database.dsl().selectDistinct(DEVICE_DELIVERY.SUBJECT_ID).from(DEVICE_DELIVERY)
            .where(DEVICE_DELIVERY.DEVICE_ID.eq(device)).and(DEVICE_DELIVERY.SUBJECT_ID.isNotNull())
            .fetch(DEVICE_DELIVERY.SUBJECT_ID));
  }
}

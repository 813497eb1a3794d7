package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.RECORD_LOG;
import static ferrule.store.jooq.Tables.SECOND_SIGNATURE;

import ferrule.ledger.LedgerStore;
import ferrule.people.NewEvidenceStore;
import ferrule.people.Person;
import ferrule.store.Database;
import ferrule.store.jooq.tables.GradeDraft;
import ferrule.store.jooq.tables.RecordLog;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Field;
import org.jooq.Record;
import org.jooq.impl.DSL;

/** The signed records, which stand in the log among what other features say for good. */
public final class RecordStore {

  /** The kinds of entry that are records of the bench. */
  static final Set<String> KINDS =
      Set.of(
          BenchRecord.SignOff.KIND, BenchRecord.SecondSignature.KIND, BenchRecord.Correction.KIND,
          BenchRecord.Withdrawal.KIND);

  private final Database database;
  private final LedgerStore ledger;
  private final Clock clock;

  /** A store over this database that takes the time of signing from this clock. */
  public RecordStore(Database database, Clock clock) {
    this.database = database;
    this.ledger = new LedgerStore(database);
    this.clock = clock;
  }

  /**
   * Signs a draft: as a sign-off, or as a correction if it corrects a record. The signer must have proved presence.
   * Work that somebody else signed while the draft was open is not signed twice.
   *
   * @param draft as it was shown to the signer; if it or its photos have changed since, nothing is signed
   * @param grade of that draft
   * @param signer who proved presence
   * @param edition of the curriculum that the grade was made by
   */
  public Signing sign(Draft draft, Grade grade, Person signer, String edition) {
    return sign(draft, grade, edition, at -> signature(signer, at), false, Set.of());
  }

  /** The same for a signer who says that it is another piece of work than what somebody else signed meanwhile. */
  public Signing signAnotherPiece(Draft draft, Grade grade, Person signer, String edition) {
    return sign(draft, grade, edition, at -> signature(signer, at), true, Set.of());
  }

  /**
   * The same for what was signed on a device without a network.
   *
   * @param sameDevice drafts that came from that device: what was signed there was known there, and is no conflict
   */
  Signing signFromDevice(
      Draft draft, Grade grade, Person signer, String edition, OnDevice onDevice, Collection<UUID> sameDevice) {
    return sign(
        draft, grade, edition, at -> new Signature(signer.id(), signer.fullName(), at, Optional.of(onDevice)), false,
        sameDevice);
  }

  private Signing sign(
      Draft draft, Grade grade, String edition, Function<Instant, Signature> signature, boolean anotherPiece,
      Collection<UUID> known) {
    return database.inTransaction(
        dsl -> {
          // whoever signs for the same apprentice takes turns, so that no two sign the same work
          Instant erasedAt = dsl.select(PERSON.ERASED_AT).from(PERSON).where(PERSON.ID.eq(draft.apprentice())).forUpdate()
              .fetchSingle(PERSON.ERASED_AT);
          Record stored = dsl.select(GRADE_DRAFT.fields()).from(GRADE_DRAFT).where(GRADE_DRAFT.ID.eq(draft.id()))
              .forUpdate().fetchSingle();
          if (stored.get(GRADE_DRAFT.SIGNED_RECORD) != null) {
            return new Signing.SignedBefore(stored.get(GRADE_DRAFT.SIGNED_RECORD));
          }
          boolean same = Entries.fromJson(stored.get(GRADE_DRAFT.ENTRIES)).equals(draft.entries())
              && PhotoStore.of(dsl, draft.id()).equals(grade.photos());
          if (!same || stored.get(GRADE_DRAFT.DISCARDED_AT) != null || erasedAt != null) {
            return new Signing.Changed();
          }
          Optional<UUID> taken = draft.corrects().flatMap(target -> takenBefore(dsl, target));
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          Optional<UUID> another = anotherPiece ? Optional.empty() : signedMeanwhile(dsl, draft, known);
          if (another.isPresent()) {
            return new Signing.SignedByAnother(another.get());
          }
          UUID id = UUID.randomUUID();
          dsl.update(GRADE_DRAFT).set(GRADE_DRAFT.SIGNED_RECORD, id).where(GRADE_DRAFT.ID.eq(draft.id())).execute();
          if (grade.secondSignature()) {
            askForSecond(dsl, id, draft.apprentice(), signature.apply(clock.instant()).by());
          }
          return new Signing.Signed(
              append(dsl, at -> recordOf(id, draft, grade, signature.apply(at), edition)));
        });
  }

  /** The sign-off that still counts of the same work, made since this first grade was begun. */
  private Optional<UUID> signedMeanwhile(DSLContext dsl, Draft draft, Collection<UUID> known) {
    if (draft.corrects().isPresent()) {
      return Optional.empty();
    }
    GradeDraft other = GRADE_DRAFT.as("other");
    return dsl.select(other.SIGNED_RECORD).from(other)
        .join(RECORD_LOG).on(RECORD_LOG.ID.eq(other.SIGNED_RECORD))
        .where(other.APPRENTICE_ID.eq(draft.apprentice()))
        .and(other.TASK_ID.eq(draft.task().value()))
        .and(other.TAG.eq(draft.tag()))
        .and(other.ID.ne(draft.id()))
        .and(known.isEmpty() ? DSL.noCondition() : other.ID.notIn(known))
        .and(RECORD_LOG.RECORDED_AT.ge(draft.openedAt().truncatedTo(ChronoUnit.MILLIS)))
        .and(notSuperseded(RECORD_LOG.ID))
        .orderBy(RECORD_LOG.NUMBER)
        .limit(1)
        .fetchOptional(other.SIGNED_RECORD);
  }

  private static Condition notSuperseded(Field<UUID> record) {
    RecordLog later = RECORD_LOG.as("later");
    return DSL.notExists(DSL.selectOne().from(later).where(later.SUPERSEDES.eq(record)));
  }

  private void askForSecond(DSLContext dsl, UUID record, UUID apprentice, UUID firstSigner) {
    dsl.insertInto(SECOND_SIGNATURE)
        .set(SECOND_SIGNATURE.RECORD_ID, record)
        .set(SECOND_SIGNATURE.APPRENTICE_ID, apprentice)
        .set(SECOND_SIGNATURE.FIRST_SIGNER, firstSigner)
        .set(SECOND_SIGNATURE.ASKED_AT, clock.instant())
        .execute();
  }

  /**
   * Signs a record that asks for a second signature. The signer must have proved presence.
   *
   * @throws IllegalArgumentException if the record asks for none, or the signer is the first one or the apprentice
   */
  public Signing signSecond(LoggedRecord target, Person signer, String edition) {
    return database.inTransaction(
        dsl -> {
          var asked = dsl.selectFrom(SECOND_SIGNATURE).where(SECOND_SIGNATURE.RECORD_ID.eq(target.id())).forUpdate()
              .fetchOptional()
              .orElseThrow(() -> new IllegalArgumentException("record " + target.number() + " asks for no second signature"));
          if (asked.getFirstSigner().equals(signer.id())) {
            throw new IllegalArgumentException("a second signature is another instructor's");
          }
          if (asked.getGivenRecord() != null) {
            return new Signing.SignedBefore(asked.getGivenRecord());
          }
          Optional<UUID> taken = takenBefore(dsl, target.id());
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          UUID id = UUID.randomUUID();
          dsl.update(SECOND_SIGNATURE)
              .set(SECOND_SIGNATURE.GIVEN_BY, signer.id())
              .set(SECOND_SIGNATURE.GIVEN_RECORD, id)
              .where(SECOND_SIGNATURE.RECORD_ID.eq(target.id()))
              .execute();
          return new Signing.Signed(append(
              dsl,
              at -> new BenchRecord.SecondSignature(
                  id, target.id(), target.apprentice(), nameNow(dsl, target), signature(signer, at), edition)));
        });
  }

  /** The record of the second signature under this record, if it was given. */
  public Optional<LoggedRecord> secondOf(UUID record) {
    return database.dsl().select(SECOND_SIGNATURE.GIVEN_RECORD).from(SECOND_SIGNATURE)
        .where(SECOND_SIGNATURE.RECORD_ID.eq(record)).and(SECOND_SIGNATURE.GIVEN_RECORD.isNotNull())
        .fetchOptional(SECOND_SIGNATURE.GIVEN_RECORD)
        .flatMap(this::find);
  }

  /** The records that still wait for a second signature, the oldest first. */
  public List<LoggedRecord> awaitingSecond() {
    return database.dsl().select(SECOND_SIGNATURE.RECORD_ID).from(SECOND_SIGNATURE)
        .where(SECOND_SIGNATURE.GIVEN_RECORD.isNull())
        .and(notSuperseded(SECOND_SIGNATURE.RECORD_ID))
        .orderBy(SECOND_SIGNATURE.ASKED_AT, SECOND_SIGNATURE.RECORD_ID)
        .fetch(SECOND_SIGNATURE.RECORD_ID)
        .stream()
        .flatMap(id -> find(id).stream())
        .toList();
  }

  private static BenchRecord recordOf(UUID id, Draft draft, Grade grade, Signature signature, String edition) {
    return draft.corrects()
        .<BenchRecord>map(target -> new BenchRecord.Correction(
            id, target, draft.id(), draft.entries().reason(), grade, signature, edition))
        .orElseGet(() -> new BenchRecord.SignOff(id, draft.id(), grade, signature, edition));
  }

  private static Signature signature(Person signer, Instant at) {
    return new Signature(signer.id(), signer.fullName(), at);
  }

  /** What took the place of a record, in a transaction in which nothing can take it any more but what it appends. */
  private Optional<UUID> takenBefore(DSLContext dsl, UUID target) {
    ledger.takeTurn(dsl);
    return ledger.supersededBy(dsl, target);
  }

  // whoever read the record before its apprentice was erased must not write the name down again
  private static String nameNow(DSLContext dsl, LoggedRecord record) {
    return dsl.select(PERSON.FULL_NAME).from(PERSON).where(PERSON.ID.eq(record.apprentice()))
        .fetchOptional(PERSON.FULL_NAME)
        .orElseGet(() -> record.record().apprenticeName());
  }

  private LoggedRecord append(DSLContext dsl, Function<Instant, BenchRecord> record) {
    return append(dsl, clock.instant(), record);
  }

  private LoggedRecord append(DSLContext dsl, Instant at, Function<Instant, BenchRecord> record) {
    LoggedRecord logged = LoggedRecord.of(ledger.append(dsl, at, signed -> RecordJson.write(record.apply(signed))));
    NewEvidenceStore.note(dsl, logged.apprentice(), logged.at());
    return logged;
  }

  /** Withdraws a record, whose signer must have proved presence. */
  public Signing withdraw(LoggedRecord target, String reason, Person signer, String edition) {
    return database.inTransaction(
        dsl -> {
          Optional<UUID> taken = takenBefore(dsl, target.id());
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          UUID id = UUID.randomUUID();
          return new Signing.Signed(append(
              dsl,
              at -> new BenchRecord.Withdrawal(
                  id, target.id(), reason, target.apprentice(), nameNow(dsl, target), signature(signer, at), edition)));
        });
  }

  /**
   * Appends a record that carries its own time, such as one that is brought in from elsewhere.
   *
   * @throws IllegalArgumentException if its time is before the last entry's
   */
  public LoggedRecord append(BenchRecord record) {
    return database.inTransaction(dsl -> append(dsl, record.signature().at(), at -> record));
  }

  /** The record that took the place of this one, if one did. */
  public Optional<UUID> supersededBy(UUID record) {
    return ledger.supersededBy(record);
  }

  /** The record with this id, if there is one. */
  public Optional<LoggedRecord> find(UUID record) {
    return ledger.find(record).filter(entry -> KINDS.contains(entry.kind())).map(LoggedRecord::of);
  }

  /** The last records, the latest first. */
  public List<LoggedRecord> latest(int most) {
    return ledger.latest(KINDS, most).stream().map(LoggedRecord::of).toList();
  }

  /** What was recorded about these apprentices up to and at an instant, in the order of the log. */
  public List<LoggedRecord> about(Collection<UUID> apprentices, Instant upTo) {
    return ledger.about(apprentices, KINDS, upTo).stream().map(LoggedRecord::of).toList();
  }

  /** The number of entries in the log, those of other features among them. */
  public long size() {
    return ledger.head().size();
  }
}

package ferrule.bench;

import static ferrule.store.jooq.Tables.GRADE_DRAFT;

import ferrule.ledger.LedgerStore;
import ferrule.people.Person;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.jooq.DSLContext;
import org.jooq.Record;

/** The signed records, which stand in the log among what other features say for good. */
public final class RecordStore {

  /** The kinds of entry that are records of the bench. */
  static final Set<String> KINDS =
      Set.of(BenchRecord.SignOff.KIND, BenchRecord.Correction.KIND, BenchRecord.Withdrawal.KIND);

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
   *
   * @param draft as it was shown to the signer; if it has changed since, nothing is signed
   * @param grade of that draft
   * @param signer who proved presence
   * @param edition of the curriculum that the grade was made by
   */
  public Signing sign(Draft draft, Grade grade, Person signer, String edition) {
    return database.inTransaction(
        dsl -> {
          Record stored = dsl.select(GRADE_DRAFT.fields()).from(GRADE_DRAFT).where(GRADE_DRAFT.ID.eq(draft.id()))
              .forUpdate().fetchSingle();
          if (stored.get(GRADE_DRAFT.SIGNED_RECORD) != null) {
            return new Signing.SignedBefore(stored.get(GRADE_DRAFT.SIGNED_RECORD));
          }
          boolean same = Entries.fromJson(stored.get(GRADE_DRAFT.ENTRIES)).equals(draft.entries());
          if (!same || stored.get(GRADE_DRAFT.DISCARDED_AT) != null) {
            return new Signing.Changed();
          }
          Optional<UUID> taken = draft.corrects().flatMap(target -> takenBefore(dsl, target));
          if (taken.isPresent()) {
            return new Signing.TakenBefore(taken.get());
          }
          UUID id = UUID.randomUUID();
          dsl.update(GRADE_DRAFT).set(GRADE_DRAFT.SIGNED_RECORD, id).where(GRADE_DRAFT.ID.eq(draft.id())).execute();
          return new Signing.Signed(
              append(dsl, at -> recordOf(id, draft, grade, signature(signer, at), edition)));
        });
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

  private LoggedRecord append(DSLContext dsl, Function<Instant, BenchRecord> record) {
    return LoggedRecord.of(ledger.append(dsl, clock.instant(), at -> RecordJson.write(record.apply(at))));
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
                  id, target.id(), reason, target.apprentice(), target.record().apprenticeName(),
                  signature(signer, at), edition)));
        });
  }

  /**
   * Appends a record that carries its own time, such as one that is brought in from elsewhere.
   *
   * @throws IllegalArgumentException if its time is before the last entry's
   */
  public LoggedRecord append(BenchRecord record) {
    return database.inTransaction(
        dsl -> LoggedRecord.of(
            ledger.append(dsl, record.signature().at(), at -> RecordJson.write(record))));
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

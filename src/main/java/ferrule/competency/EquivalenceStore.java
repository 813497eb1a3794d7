package ferrule.competency;

import static ferrule.store.jooq.Tables.EQUIVALENCE;
import static ferrule.store.jooq.Tables.EQUIVALENCE_WITHDRAWAL;
import static ferrule.store.jooq.Tables.PERSON;

import ferrule.ledger.LedgerStore;
import ferrule.people.NewEvidenceStore;
import ferrule.people.Person;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.SelectOnConditionStep;
import org.jooq.impl.DSL;

/** Prior learning that was granted, and withdrawn. */
public final class EquivalenceStore {

  private final Database database;
  private final LedgerStore ledger;

  /** A store over this database, whose log it adds to. */
  public EquivalenceStore(Database database, LedgerStore ledger) {
    this.database = database;
    this.ledger = ledger;
  }

  /** Adds a grant, and enters it in the log. */
  public void grant(Equivalence grant) {
    database.transact(dsl -> {
      dsl.insertInto(EQUIVALENCE)
          .set(EQUIVALENCE.ID, grant.id())
          .set(EQUIVALENCE.APPRENTICE_ID, grant.apprentice())
          .set(EQUIVALENCE.COMPETENCY, grant.competency())
          .set(EQUIVALENCE.REASON, grant.reason())
          .set(EQUIVALENCE.GRANTED_BY, grant.grantedBy())
          .set(EQUIVALENCE.GRANTED_AT, grant.grantedAt())
          .set(EQUIVALENCE.UNTIL_ON, grant.until().orElse(null))
          .execute();
      NewEvidenceStore.note(dsl, grant.apprentice(), grant.grantedAt());
      String name = nameNow(dsl, grant.apprentice());
      ledger.append(dsl, grant.grantedAt(), at -> ProgrammeStatement.granted(grant, name, at));
    });
  }

  /** Withdraws a grant, and enters that in the log; false, with nothing changed, if it was withdrawn before. */
  boolean withdraw(Equivalence grant, String reason, Person by, Instant at) {
    return database.inTransaction(dsl -> {
      boolean isNew = 1 == dsl.insertInto(EQUIVALENCE_WITHDRAWAL)
          .set(EQUIVALENCE_WITHDRAWAL.EQUIVALENCE_ID, grant.id())
          .set(EQUIVALENCE_WITHDRAWAL.REASON, reason)
          .set(EQUIVALENCE_WITHDRAWAL.WITHDRAWN_BY, by.id())
          .set(EQUIVALENCE_WITHDRAWAL.WITHDRAWN_AT, at)
          .onConflictDoNothing()
          .execute();
      if (isNew) {
        NewEvidenceStore.note(dsl, grant.apprentice(), at);
        UUID id = UUID.randomUUID();
        String name = nameNow(dsl, grant.apprentice());
        ledger.append(
            dsl, at, signedAt -> ProgrammeStatement.withdrawn(grant, id, name, reason, by, signedAt));
      }
      return isNew;
    });
  }

  // in the log's turn, so that nobody whom it names can be erased before it is written
  private String nameNow(DSLContext dsl, UUID person) {
    ledger.takeTurn(dsl);
    return dsl.select(PERSON.FULL_NAME).from(PERSON).where(PERSON.ID.eq(person)).fetchSingle(PERSON.FULL_NAME);
  }

  /** The grant with this id, if there is one. */
  Optional<Equivalence> find(UUID grant) {
    return rows().where(EQUIVALENCE.ID.eq(grant)).fetchOptional(EquivalenceStore::toEquivalence);
  }

  /** What was granted to these people and not withdrawn up to and at an instant, the latest last. */
  public List<Equivalence> of(Collection<UUID> people, Instant upTo) {
    return rows()
        .where(EQUIVALENCE.APPRENTICE_ID.in(people))
        .and(EQUIVALENCE.GRANTED_AT.le(upTo))
        .and(DSL.notExists(
            DSL.selectOne().from(EQUIVALENCE_WITHDRAWAL)
                .where(EQUIVALENCE_WITHDRAWAL.EQUIVALENCE_ID.eq(EQUIVALENCE.ID))
                .and(EQUIVALENCE_WITHDRAWAL.WITHDRAWN_AT.le(upTo))))
        .orderBy(EQUIVALENCE.GRANTED_AT, EQUIVALENCE.ID)
        .fetch(EquivalenceStore::toEquivalence);
  }

  private SelectOnConditionStep<Record> rows() {
    return database.dsl().select(EQUIVALENCE.fields()).select(PERSON.FULL_NAME)
        .from(EQUIVALENCE).join(PERSON).on(PERSON.ID.eq(EQUIVALENCE.GRANTED_BY));
  }

  private static Equivalence toEquivalence(Record row) {
    return new Equivalence(
        row.get(EQUIVALENCE.ID), row.get(EQUIVALENCE.APPRENTICE_ID), row.get(EQUIVALENCE.COMPETENCY),
        row.get(EQUIVALENCE.REASON), row.get(EQUIVALENCE.GRANTED_BY), row.get(PERSON.FULL_NAME),
        row.get(EQUIVALENCE.GRANTED_AT), Optional.ofNullable(row.get(EQUIVALENCE.UNTIL_ON)));
  }
}

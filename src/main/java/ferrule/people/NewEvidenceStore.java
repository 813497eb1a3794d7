package ferrule.people;

import static ferrule.store.jooq.Tables.NEW_EVIDENCE;

import java.time.Instant;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Field;
import org.jooq.Record1;
import org.jooq.Select;
import org.jooq.impl.DSL;

/**
 * Notes that something was recorded by which a person may stand otherwise than before. Whatever records evidence about
 * apprentices calls it in the transaction that keeps the evidence, so that both are kept or neither; what was worked out
 * about the person before is not used any more from then on.
 */
public final class NewEvidenceStore {

  private NewEvidenceStore() {}

  /**
   * Notes new evidence about a person.
   *
   * @param countsFrom the time of the evidence: who asks how things stood at this moment or later is to take it into
   *     account
   */
  public static void note(DSLContext dsl, UUID person, Instant countsFrom) {
    note(dsl, DSL.val(person), countsFrom);
  }

  /** Notes new evidence about the one person that a query finds. */
  public static void note(DSLContext dsl, Select<Record1<UUID>> person, Instant countsFrom) {
    note(dsl, DSL.field(person), countsFrom);
  }

  private static void note(DSLContext dsl, Field<UUID> person, Instant countsFrom) {
    dsl.insertInto(NEW_EVIDENCE)
        .set(NEW_EVIDENCE.PERSON_ID, person)
        .set(NEW_EVIDENCE.COUNTS_FROM, countsFrom)
        .execute();
  }
}

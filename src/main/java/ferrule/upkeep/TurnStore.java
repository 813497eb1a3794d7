package ferrule.upkeep;

import static ferrule.store.jooq.Tables.BACKUP_TURN;

import ferrule.store.Database;
import java.time.Instant;
import java.util.Optional;
import org.jooq.impl.DSL;

/** Whose turn it is to make a backup that is due: that of the node that says so first. */
public final class TurnStore {

  private static final int LONGEST = 1_000;

  private final Database database;

  /** The turns of the nodes over this database. */
  public TurnStore(Database database) {
    this.database = database;
  }

  /** Takes the backup that is due at this moment; false if another node has it. */
  public boolean take(Instant due, Instant now) {
    return database.dsl().insertInto(BACKUP_TURN)
        .set(BACKUP_TURN.DUE_AT, due)
        .set(BACKUP_TURN.TAKEN_AT, now)
        .onConflictDoNothing()
        .execute() == 1;
  }

  /** Notes what came of it. */
  public void done(Instant due, Optional<Instant> made, String outcome) {
    database.dsl().update(BACKUP_TURN)
        .set(BACKUP_TURN.MADE_AT, made.orElse(null))
        .set(BACKUP_TURN.OUTCOME, outcome.substring(0, Math.min(outcome.length(), LONGEST)))
        .where(BACKUP_TURN.DUE_AT.eq(due))
        .execute();
  }

  /** When the last backup that the clock asked for was made, at whichever node. */
  public Optional<Instant> lastMade() {
    return database.dsl().select(DSL.max(BACKUP_TURN.MADE_AT)).from(BACKUP_TURN)
        .fetchOptional(DSL.max(BACKUP_TURN.MADE_AT));
  }
}

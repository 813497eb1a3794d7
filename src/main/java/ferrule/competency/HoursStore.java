package ferrule.competency;

import static ferrule.store.jooq.Tables.BENCH_HOURS;
import static ferrule.store.jooq.Tables.PERSON;

import ferrule.people.NewEvidenceStore;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Query;
import org.jooq.Record;
import org.jooq.SelectOnConditionStep;

/** Time at the bench, which is only ever added to. */
public final class HoursStore {

  private final Database database;

  /** A store over this database. */
  public HoursStore(Database database) {
    this.database = database;
  }

  /** Adds these entries as a whole. */
  public void add(List<BenchHours> entries) {
    database.transact(dsl -> {
      dsl.batch(entries.stream().map(entry -> insert(dsl, entry)).toList()).execute();
      entries.forEach(entry -> NewEvidenceStore.note(dsl, entry.apprentice(), entry.enteredAt()));
    });
  }

  private static Query insert(DSLContext dsl, BenchHours entry) {
    return dsl.insertInto(BENCH_HOURS)
        .set(BENCH_HOURS.ID, entry.id())
        .set(BENCH_HOURS.APPRENTICE_ID, entry.apprentice())
        .set(BENCH_HOURS.WORKED_ON, entry.day())
        .set(BENCH_HOURS.MINUTES, entry.minutes())
        .set(BENCH_HOURS.WHAT, entry.what())
        .set(BENCH_HOURS.ENTERED_BY, entry.enteredBy())
        .set(BENCH_HOURS.ENTERED_AT, entry.enteredAt())
        .set(BENCH_HOURS.CORRECTS, entry.corrects().orElse(null))
        .set(BENCH_HOURS.REASON, entry.reason());
  }

  /** The entry with this id, if there is one. */
  Optional<BenchHours> find(UUID entry) {
    return rows(database.dsl()).where(BENCH_HOURS.ID.eq(entry)).fetchOptional(HoursStore::toHours);
  }

  /** Whether an entry was corrected. */
  boolean isCorrected(UUID entry) {
    return database.dsl().fetchExists(BENCH_HOURS, BENCH_HOURS.CORRECTS.eq(entry));
  }

  /** Every entry about these people up to and at an instant, in the order of entering. */
  public List<BenchHours> about(Collection<UUID> people, Instant upTo) {
    return rows(database.dsl())
        .where(BENCH_HOURS.APPRENTICE_ID.in(people))
        .and(BENCH_HOURS.ENTERED_AT.le(upTo))
        .orderBy(BENCH_HOURS.ENTERED_AT, BENCH_HOURS.CORRECTS.asc().nullsFirst(), BENCH_HOURS.ID)
        .fetch(HoursStore::toHours);
  }

  private static SelectOnConditionStep<Record> rows(DSLContext dsl) {
    return dsl.select(BENCH_HOURS.fields()).select(PERSON.FULL_NAME)
        .from(BENCH_HOURS).join(PERSON).on(PERSON.ID.eq(BENCH_HOURS.ENTERED_BY));
  }

  private static BenchHours toHours(Record row) {
    return new BenchHours(
        row.get(BENCH_HOURS.ID), row.get(BENCH_HOURS.APPRENTICE_ID), row.get(BENCH_HOURS.WORKED_ON),
        row.get(BENCH_HOURS.MINUTES), row.get(BENCH_HOURS.WHAT), row.get(BENCH_HOURS.ENTERED_BY),
        row.get(PERSON.FULL_NAME), row.get(BENCH_HOURS.ENTERED_AT),
        Optional.ofNullable(row.get(BENCH_HOURS.CORRECTS)), row.get(BENCH_HOURS.REASON));
  }
}

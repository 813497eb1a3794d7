package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;

import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Field;
import org.jooq.Record;
import org.jooq.SelectConditionStep;
import org.jooq.SelectSelectStep;
import org.jooq.impl.DSL;

/**
 * Which parts some people took for which, counted in the database: over every drill and self-test in which a part was to be
 * named or found, each answer as it was judged at an instant.
 */
public final class ConfusionStore {

  private static final List<String> ASK_FOR_NAMES =
      Arrays.stream(ItemKind.values()).filter(ItemKind::asksForName).map(ItemKind::word).toList();

  private final Database database;

  /** A store over this database. */
  public ConfusionStore(Database database) {
    this.database = database;
  }

  /** How many answers these people gave about each part. */
  public Map<ConceptId, Integer> answers(Collection<UUID> people, Instant upTo) {
    return given(database.dsl().select(DRILL_ITEM.PART, DSL.count()), people, upTo)
        .groupBy(DRILL_ITEM.PART)
        .fetchMap(row -> ConceptId.of(row.value1()), row -> row.value2());
  }

  /** Which part these people took for which, the most often first. */
  public List<MixUp> mixUps(Collection<UUID> people, Instant upTo) {
    // a regrade without a part that it was taken for says that there is none: no coalesce here
    Field<String> takenFor =
        DSL.when(DRILL_REGRADE.ID.isNull(), DRILL_RESPONSE.TAKEN_FOR).otherwise(DRILL_REGRADE.TAKEN_FOR);
    Field<Integer> times = DSL.count();
    Field<Integer> by = DSL.countDistinct(DRILL_SITTING.PERSON_ID);
    return given(database.dsl().select(DRILL_ITEM.PART, takenFor, times, by), people, upTo)
        .and(takenFor.isNotNull())
        .groupBy(DRILL_ITEM.PART, takenFor)
        .orderBy(times.desc(), by.desc(), DRILL_ITEM.PART, takenFor)
        .fetch(row -> new MixUp(ConceptId.of(row.value1()), ConceptId.of(row.value2()), row.value3(), row.value4()));
  }

  private static <R extends Record> SelectConditionStep<R> given(
      SelectSelectStep<R> select, Collection<UUID> people, Instant upTo) {
    return select
        .from(DRILL_RESPONSE)
        .join(DRILL_ITEM)
        .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
        .join(DRILL_SITTING)
        .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
        .leftJoin(DRILL_REGRADE)
        .on(latestBy(upTo))
        .where(DRILL_SITTING.PERSON_ID.in(people))
        .and(DRILL_ITEM.KIND.in(ASK_FOR_NAMES))
        .and(DRILL_RESPONSE.ANSWERED_AT.le(upTo));
  }

  private static Condition latestBy(Instant upTo) {
    var later = DRILL_REGRADE.as("later");
    return DRILL_REGRADE.RESPONSE_ID.eq(DRILL_RESPONSE.ID)
        .and(DRILL_REGRADE.ORDINAL.eq(
            DSL.select(DSL.max(later.ORDINAL)).from(later)
                .where(later.RESPONSE_ID.eq(DRILL_RESPONSE.ID)).and(later.REGRADED_AT.le(upTo))));
  }
}

package ferrule.competency;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;

import ferrule.drill.ItemKind;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import ferrule.store.jooq.tables.DrillRegrade;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.Field;
import org.jooq.impl.DSL;

/** What the answers in drills say about names. */
public final class NamingStore {

  private final Database database;

  /** A store over this database. */
  public NamingStore(Database database) {
    this.database = database;
  }

  /**
   * What somebody named.
   *
   * @param right the parts that they named right when they were last asked
   * @param asked the parts that they were asked for at all
   */
  public record Named(Set<ConceptId> right, Set<ConceptId> asked) {

    /** Of somebody who was asked for nothing. */
    static final Named NOTHING = new Named(Set.of(), Set.of());
  }

  /**
   * What each of these people was asked to name up to and at an instant, and named right when last asked, with the
   * rulings made by then. Right is what has full credit: the preferred term or another trade term.
   */
  public Map<UUID, Named> named(Collection<UUID> people, Instant upTo) {
    Field<Integer> age =
        DSL.rowNumber()
            .over(
                DSL.partitionBy(DRILL_SITTING.PERSON_ID, DRILL_ITEM.PART)
                    .orderBy(DRILL_RESPONSE.ANSWERED_AT.desc(), DRILL_RESPONSE.ID.desc()))
            .as("age");
    var asked =
        DSL.select(
                DRILL_SITTING.PERSON_ID.as("person"),
                DRILL_ITEM.PART.as("part"),
                DRILL_RESPONSE.ID.as("response"),
                DRILL_RESPONSE.CREDIT.as("credit"),
                age)
            .from(DRILL_RESPONSE)
            .join(DRILL_ITEM)
            .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
            .join(DRILL_SITTING)
            .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
            .where(DRILL_SITTING.PERSON_ID.in(people))
            .and(DRILL_ITEM.KIND.eq(ItemKind.NAME.word()))
            .and(DRILL_RESPONSE.ANSWERED_AT.le(upTo))
            .asTable("asked");
    // the latest regrade of an answer that had been made by then takes the place of its first credit
    DrillRegrade later = DRILL_REGRADE.as("later");
    Condition latest =
        DRILL_REGRADE.RESPONSE_ID.eq(asked.field("response", UUID.class))
            .and(DRILL_REGRADE.REGRADED_AT.le(upTo))
            .and(DSL.notExists(
                DSL.selectOne().from(later)
                    .where(later.RESPONSE_ID.eq(DRILL_REGRADE.RESPONSE_ID), later.ORDINAL.gt(DRILL_REGRADE.ORDINAL))
                    .and(later.REGRADED_AT.le(upTo))));
    Map<UUID, Named> named = new HashMap<>();
    database
        .dsl()
        .select(
            asked.field("person", UUID.class), asked.field("part", String.class),
            DSL.coalesce(DRILL_REGRADE.CREDIT, asked.field("credit", Double.class)))
        .from(asked)
        .leftJoin(DRILL_REGRADE).on(latest)
        .where(asked.field("age", Integer.class).eq(1))
        .forEach(row -> {
          Named theirs = named.computeIfAbsent(row.value1(), p -> new Named(new HashSet<>(), new HashSet<>()));
          ConceptId part = ConceptId.of(row.value2());
          theirs.asked().add(part);
          if (row.value3() >= 1.0) {
            theirs.right().add(part);
          }
        });
    return named;
  }
}

package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.KNOWN_PENDING;

import ferrule.drill.known.Answered;
import ferrule.drill.known.Asking;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Field;
import org.jooq.Record;
import org.jooq.SelectSelectStep;
import org.jooq.impl.DSL;

/** The answers from which what is known follows, with what each counts now. */
final class KnownAnswerStore {

  /** An answer that proves something about a part's name. */
  record Given(UUID response, Answered answered) {}

  private static final List<String> KINDS =
      Arrays.stream(ItemKind.values()).filter(ItemKind::asksForName).map(ItemKind::word).toList();

  private KnownAnswerStore() {}

  /**
   * How an item of this kind asks, as far as it matters to what an answer proves; empty if an answer proves nothing about
   * a part's name, because it is about where the part belongs or about work. Of a place on a drawing, as many parts count
   * as choices as somebody could take for the one that is to be found.
   */
  static Optional<Asking> asking(ItemKind kind) {
    if (!kind.asksForName()) {
      return Optional.empty();
    }
    return Optional.of(kind.choices() == 0 ? Asking.named() : Asking.chosenAmong(kind.choices()));
  }

  /** These answers in the order in which they were given; of those given at one moment, in the order of their ids. */
  static List<Given> these(DSLContext dsl, List<UUID> responses) {
    return inOrder(dsl, isOneOf(DRILL_RESPONSE.ID, responses));
  }

  /**
   * That an id is one of these. They are an array, because the embedded database makes a list of values that is asked like a
   * table anew for each row that it looks at: 500 rows took a tenth of a second so, and take a millisecond.
   */
  static Condition isOneOf(Field<UUID> id, List<UUID> ids) {
    return DSL.condition("{0} = any({1})", id, DSL.val(ids.toArray(UUID[]::new)));
  }

  /** The answers that wait to be taken in and were given after this moment, in the same order. */
  static List<Given> waiting(DSLContext dsl, Instant after) {
    return inOrder(
        dsl,
        DRILL_RESPONSE.ID.in(
            DSL.select(KNOWN_PENDING.RESPONSE_ID).from(KNOWN_PENDING).where(KNOWN_PENDING.ANSWERED_AT.gt(after))));
  }

  /** The answers of these people but for those that wait to be taken in, in the same order. */
  static List<Given> takenIn(DSLContext dsl, Collection<UUID> people) {
    // the embedded database would read everybody's answers to find those of a person, but not to find those of sittings
    return inOrder(
        dsl,
        DRILL_RESPONSE.SITTING_ID
            .in(DSL.select(DRILL_SITTING.ID).from(DRILL_SITTING).where(DRILL_SITTING.PERSON_ID.in(people)))
            .and(DRILL_ITEM.KIND.in(KINDS))
            .and(DSL.notExists(
                DSL.selectOne().from(KNOWN_PENDING).where(KNOWN_PENDING.RESPONSE_ID.eq(DRILL_RESPONSE.ID)))));
  }

  private static List<Given> inOrder(DSLContext dsl, Condition which) {
    SelectSelectStep<? extends Record> facts = dsl
        .select(DRILL_RESPONSE.ID, DRILL_RESPONSE.ANSWERED_AT, DRILL_SITTING.PERSON_ID, DRILL_ITEM.PART, DRILL_ITEM.KIND)
        .select(DrillStore.CREDIT.as("credit_now"));
    return DrillStore.answered(facts, which)
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.ID)
        .fetch(KnownAnswerStore::given);
  }

  private static Given given(Record row) {
    return new Given(
        row.get(DRILL_RESPONSE.ID),
        new Answered(
            row.get(DRILL_SITTING.PERSON_ID),
            ConceptId.of(row.get(DRILL_ITEM.PART)),
            asking(ItemKind.parse(row.get(DRILL_ITEM.KIND))).orElseThrow(),
            row.get("credit_now", Double.class),
            row.get(DRILL_RESPONSE.ANSWERED_AT)));
  }
}

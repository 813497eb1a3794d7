package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.NAMED_LAST;
import static ferrule.store.jooq.Tables.NAMED_UNREAD;

import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import org.jooq.BatchBindStep;
import org.jooq.DSLContext;
import org.jooq.Field;

/**
 * The last answer for each part of whoever was asked to name it.
 *
 * <p>The transaction that keeps an answer keeps it as the last too, so how things stand now is found without reading
 * whatever was answered before. Answers that were there before these rows were kept are looked through in the background, a
 * few people at a time; until then, and for a moment in the past, all answers of a person are read.
 */
public final class LastNamedStore {

  private static final int AT_A_TIME = 3;

  /** After any answer; a moment that every database can hold. */
  private static final Instant FOR_EVER = Instant.parse("9999-01-01T00:00:00Z");

  private static final List<Field<?>> COLUMNS = List.of(NAMED_LAST.fields());

  private final Database database;

  /** A store over this database. */
  public LastNamedStore(Database database) {
    this.database = database;
  }

  /** An answer, and what it counted when it was given. */
  public record Last(UUID response, double credit) {}

  // -- reading

  /**
   * For each part that one of these people had named, rightly or not, up to and at an instant, the last answer of then; of
   * answers given at one moment, the one with the highest id. Who had named nothing is not among them.
   */
  public Map<UUID, Map<ConceptId, Last>> last(Collection<UUID> people, Instant upTo) {
    // asked first: who is looked through by then stays so
    Set<UUID> searched = database.dsl().select(NAMED_UNREAD.PERSON_ID).from(NAMED_UNREAD)
        .where(NAMED_UNREAD.PERSON_ID.in(people)).fetchSet(NAMED_UNREAD.PERSON_ID);
    Map<UUID, Map<ConceptId, Last>> last = new HashMap<>();
    database.dsl().selectFrom(NAMED_LAST).where(NAMED_LAST.PERSON_ID.in(people)).forEach(row -> {
      put(last, row.getPersonId(), row.getPart(), new Last(row.getResponseId(), row.getCredit()));
      if (row.getAnsweredAt().isAfter(upTo)) {
        searched.add(row.getPersonId());
      }
    });
    last.keySet().removeAll(searched);
    answers(database.dsl(), searched, upTo).forEach(a -> put(last, a.person(), a.part(), a.last()));
    return last;
  }

  private static void put(Map<UUID, Map<ConceptId, Last>> last, UUID person, String part, Last one) {
    last.computeIfAbsent(person, p -> new HashMap<>()).put(ConceptId.of(part), one);
  }

  /** An answer that named a part. */
  private record Named(UUID person, String part, Last last, Instant at) {}

  /** What these people named up to and at an instant, in order. */
  private static List<Named> answers(DSLContext dsl, Collection<UUID> people, Instant upTo) {
    if (people.isEmpty()) {
      return List.of();
    }
    // the embedded database takes as long again to rank them as to read them, so whoever asks goes through them
    return dsl
        .select(
            DRILL_SITTING.PERSON_ID, DRILL_ITEM.PART, DRILL_RESPONSE.ID, DRILL_RESPONSE.CREDIT, DRILL_RESPONSE.ANSWERED_AT)
        .from(DRILL_SITTING)
        .join(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.SITTING_ID.eq(DRILL_SITTING.ID))
        .join(DRILL_ITEM)
        .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
        .where(DRILL_SITTING.PERSON_ID.in(people))
        .and(DRILL_ITEM.KIND.eq(ItemKind.NAME.word()))
        .and(DRILL_RESPONSE.ANSWERED_AT.le(upTo))
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.ID)
        .fetch(r -> new Named(r.value1(), r.value2(), new Last(r.value3(), r.value4()), r.value5()));
  }

  // -- keeping

  /** Keeps an answer that named a part, within the transaction that keeps the answer. */
  static void note(DSLContext dsl, UUID person, ConceptId part, UUID response, double credit, Instant at) {
    keep(dsl, person, part.value(), new Last(response, credit), at);
  }

  private static void keep(DSLContext dsl, UUID person, String part, Last last, Instant at) {
    if (replace(dsl, person, part, last, at)) {
      return;
    }
    int added = dsl.insertInto(NAMED_LAST, COLUMNS)
        .values(person, part, last.response(), at, last.credit())
        .onConflictDoNothing()
        .execute();
    if (added == 0) {
      // a later one is kept, or one that was being kept meanwhile and may be an earlier one
      replace(dsl, person, part, last, at);
    }
  }

  /** Puts an answer in the place of one that was given before it; returns whether there was such a one. */
  private static boolean replace(DSLContext dsl, UUID person, String part, Last last, Instant at) {
    return dsl.update(NAMED_LAST)
        .set(NAMED_LAST.RESPONSE_ID, last.response())
        .set(NAMED_LAST.ANSWERED_AT, at)
        .set(NAMED_LAST.CREDIT, last.credit())
        .where(NAMED_LAST.PERSON_ID.eq(person), NAMED_LAST.PART.eq(part))
        .and(NAMED_LAST.ANSWERED_AT.lt(at)
            .or(NAMED_LAST.ANSWERED_AT.eq(at).and(NAMED_LAST.RESPONSE_ID.lt(last.response()))))
        .execute() > 0;
  }

  /** Looks through the answers of some whose are not looked through yet; returns whether there was anybody. */
  public boolean lookSomeThrough() {
    // asked before writing, which in an embedded database only one may do at a time
    List<UUID> some = database.dsl().select(NAMED_UNREAD.PERSON_ID).from(NAMED_UNREAD)
        .orderBy(NAMED_UNREAD.PERSON_ID).limit(AT_A_TIME).fetch(NAMED_UNREAD.PERSON_ID);
    if (!some.isEmpty()) {
      database.transact(dsl -> lookThrough(dsl, some));
    }
    return !some.isEmpty();
  }

  /** Keeps those of these answers for whose person and part none is kept; returns those that it does not. */
  private static List<Named> add(DSLContext dsl, List<Named> all) {
    if (all.isEmpty()) {
      return List.of();
    }
    // in one statement, what the embedded database gets for this would grow with the square of the rows
    BatchBindStep each =
        dsl.batch(dsl.insertInto(NAMED_LAST, COLUMNS).values(new Object[COLUMNS.size()]).onConflictDoNothing());
    all.forEach(a -> each.bind(a.person(), a.part(), a.last().response(), a.at(), a.last().credit()));
    int[] added = each.execute();
    return IntStream.range(0, added.length).filter(i -> added[i] == 0).mapToObj(all::get).toList();
  }

  // an answer that is kept meanwhile, and that this does not see, is kept as the last by whoever keeps it
  private static void lookThrough(DSLContext dsl, List<UUID> people) {
    Map<UUID, Map<String, Named>> last = new HashMap<>();
    answers(dsl, people, FOR_EVER).forEach(a -> last.computeIfAbsent(a.person(), p -> new HashMap<>()).put(a.part(), a));
    // in one order at every node, so that none waits for a row of another that waits for one of its own
    List<Named> all = last.values().stream()
        .flatMap(parts -> parts.values().stream())
        .sorted(Comparator.comparing(Named::person).thenComparing(Named::part))
        .toList();
    add(dsl, all).forEach(a -> replace(dsl, a.person(), a.part(), a.last(), a.at()));
    dsl.deleteFrom(NAMED_UNREAD).where(NAMED_UNREAD.PERSON_ID.in(people)).execute();
  }
}

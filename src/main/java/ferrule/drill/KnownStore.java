package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.KNOWN_ABILITY;
import static ferrule.store.jooq.Tables.KNOWN_DIFFICULTY;
import static ferrule.store.jooq.Tables.KNOWN_HOLD;
import static ferrule.store.jooq.Tables.KNOWN_THROUGH;

import ferrule.drill.known.Answered;
import ferrule.drill.known.Asking;
import ferrule.drill.known.Belief;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.drill.known.Trace;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Query;
import org.jooq.Record;

/**
 * What is known, in the database: a summary of the answers that can be made anew from them at any time.
 *
 * <p>An answer is taken in by the transaction that keeps it, in constant time. If it comes out of its order, or if
 * answers were regraded since, the summary is made anew from all answers before it is read next. Both hold the lock of
 * one row, so that several nodes agree.
 */
public final class KnownStore {

  private static final int THE_ROW = 1;
  private static final List<String> KINDS =
      Arrays.stream(ItemKind.values()).filter(ItemKind::asksForName).map(ItemKind::word).toList();

  private final Database database;
  private final KnownModel model = KnownModel.standard();

  /** A store over this database. */
  public KnownStore(Database database) {
    this.database = database;
  }

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

  /** What is known of these people, as it follows from every answer that was given and what it counts now. */
  public Knowledge knowledge(Collection<UUID> people) {
    return database.inTransaction(
        dsl -> {
          if (isOutdated(dsl)) {
            makeAnew(dsl);
          }
          return load(dsl, people);
        });
  }

  /**
   * Takes an answer in, within the transaction that has just kept it.
   *
   * @param sitting the sitting that the answer belongs to
   * @param credit what it counts
   */
  void learn(DSLContext dsl, UUID sitting, Item item, double credit, Instant at) {
    Optional<Asking> asking = asking(item.kind());
    if (asking.isEmpty()) {
      return;
    }
    Record through = lock(dsl);
    Instant last = through.get(KNOWN_THROUGH.LAST_AT);
    if (through.get(KNOWN_THROUGH.OUTDATED)) {
      return; // it will be taken in with all the others
    }
    if (last != null && at.isBefore(last)) {
      dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.OUTDATED, true).execute();
      return;
    }
    ConceptId part = item.key();
    Record before = before(dsl, sitting, part);
    UUID person = before.get(DRILL_SITTING.PERSON_ID);
    Knowledge knowledge = knowledge(before, person, part);
    knowledge.learn(new Answered(person, part, asking.get(), credit, at));
    Belief ability = knowledge.ability(person);
    Belief difficulty = knowledge.difficulty(part);
    Trace trace = knowledge.trace(person, part).orElseThrow();
    dsl.batch(
            before.get(KNOWN_ABILITY.MEAN) == null ? insert(dsl, person, ability) : update(dsl, person, ability),
            before.get(KNOWN_DIFFICULTY.MEAN) == null ? insert(dsl, part, difficulty) : update(dsl, part, difficulty),
            before.get(KNOWN_HOLD.MEAN) == null ? insert(dsl, person, part, trace) : update(dsl, person, part, trace),
            dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.LAST_AT, at))
        .execute();
  }

  /** Whose sitting it is and what was known of them and a part until now, in one row; null what there is not. */
  private static Record before(DSLContext dsl, UUID sitting, ConceptId part) {
    return dsl.select(DRILL_SITTING.PERSON_ID)
        .select(KNOWN_ABILITY.MEAN, KNOWN_ABILITY.VARIANCE)
        .select(KNOWN_DIFFICULTY.MEAN, KNOWN_DIFFICULTY.VARIANCE)
        .select(KNOWN_HOLD.fields())
        .from(DRILL_SITTING)
        .leftJoin(KNOWN_ABILITY)
        .on(KNOWN_ABILITY.PERSON_ID.eq(DRILL_SITTING.PERSON_ID))
        .leftJoin(KNOWN_DIFFICULTY)
        .on(KNOWN_DIFFICULTY.PART.eq(part.value()))
        .leftJoin(KNOWN_HOLD)
        .on(KNOWN_HOLD.PERSON_ID.eq(DRILL_SITTING.PERSON_ID), KNOWN_HOLD.PART.eq(part.value()))
        .where(DRILL_SITTING.ID.eq(sitting))
        .fetchSingle();
  }

  private Knowledge knowledge(Record before, UUID person, ConceptId part) {
    Knowledge knowledge = new Knowledge(model);
    if (before.get(KNOWN_ABILITY.MEAN) != null) {
      knowledge.put(person, new Belief(before.get(KNOWN_ABILITY.MEAN), before.get(KNOWN_ABILITY.VARIANCE)));
    }
    if (before.get(KNOWN_DIFFICULTY.MEAN) != null) {
      knowledge.put(part, new Belief(before.get(KNOWN_DIFFICULTY.MEAN), before.get(KNOWN_DIFFICULTY.VARIANCE)));
    }
    if (before.get(KNOWN_HOLD.MEAN) != null) {
      knowledge.put(person, part, trace(before));
    }
    return knowledge;
  }

  // -- making anew

  private static Record lock(DSLContext dsl) {
    return dsl.selectFrom(KNOWN_THROUGH).where(KNOWN_THROUGH.ID.eq(THE_ROW)).forUpdate().fetchSingle();
  }

  private static boolean isOutdated(DSLContext dsl) {
    Record through = dsl.selectFrom(KNOWN_THROUGH).where(KNOWN_THROUGH.ID.eq(THE_ROW)).fetchSingle();
    return through.get(KNOWN_THROUGH.OUTDATED)
        || through.get(KNOWN_THROUGH.REGRADES) != dsl.fetchCount(DRILL_REGRADE);
  }

  private record Pair(UUID person, ConceptId part) {}

  private void makeAnew(DSLContext dsl) {
    lock(dsl);
    if (!isOutdated(dsl)) {
      return; // somebody else has done it meanwhile
    }
    int regrades = dsl.fetchCount(DRILL_REGRADE);
    List<Answered> answers = answers(dsl);
    Knowledge knowledge = Knowledge.replay(model, answers);
    dsl.deleteFrom(KNOWN_HOLD).execute();
    dsl.deleteFrom(KNOWN_DIFFICULTY).execute();
    dsl.deleteFrom(KNOWN_ABILITY).execute();
    answers.stream().map(Answered::person).distinct().forEach(p -> insert(dsl, p, knowledge.ability(p)).execute());
    answers.stream().map(Answered::part).distinct().forEach(p -> insert(dsl, p, knowledge.difficulty(p)).execute());
    answers.stream()
        .map(a -> new Pair(a.person(), a.part()))
        .distinct()
        .map(p -> insert(dsl, p.person(), p.part(), knowledge.trace(p.person(), p.part()).orElseThrow()))
        .forEach(Query::execute);
    dsl.update(KNOWN_THROUGH)
        .set(KNOWN_THROUGH.OUTDATED, false)
        .set(KNOWN_THROUGH.LAST_AT, answers.isEmpty() ? null : answers.get(answers.size() - 1).at())
        .set(KNOWN_THROUGH.REGRADES, regrades)
        .execute();
  }

  /** Every answer with what it counts now, in the order in which they were given. */
  private static List<Answered> answers(DSLContext dsl) {
    return DrillStore.responsesWhere(dsl, DRILL_ITEM.KIND.in(KINDS))
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.SITTING_ID, DRILL_RESPONSE.POSITION)
        .fetch(
            row ->
                new Answered(
                    row.get(DRILL_SITTING.PERSON_ID),
                    ConceptId.of(row.get(DRILL_ITEM.PART)),
                    asking(ItemKind.parse(row.get(DRILL_ITEM.KIND))).orElseThrow(),
                    row.get("credit_now", Double.class),
                    row.get(DRILL_RESPONSE.ANSWERED_AT)));
  }

  // -- rows

  private Knowledge load(DSLContext dsl, Collection<UUID> people) {
    Knowledge knowledge = new Knowledge(model);
    dsl.selectFrom(KNOWN_ABILITY)
        .where(KNOWN_ABILITY.PERSON_ID.in(people))
        .forEach(r -> knowledge.put(r.getPersonId(), new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_DIFFICULTY)
        .forEach(r -> knowledge.put(ConceptId.of(r.getPart()), new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_HOLD)
        .where(KNOWN_HOLD.PERSON_ID.in(people))
        .forEach(r -> knowledge.put(r.getPersonId(), ConceptId.of(r.getPart()), trace(r)));
    return knowledge;
  }

  private static Trace trace(Record row) {
    return new Trace(
        new Belief(row.get(KNOWN_HOLD.MEAN), row.get(KNOWN_HOLD.VARIANCE)),
        row.get(KNOWN_HOLD.ASKED),
        row.get(KNOWN_HOLD.LAST_AT),
        row.get(KNOWN_HOLD.MISSED));
  }

  private static Query insert(DSLContext dsl, UUID person, Belief ability) {
    return dsl.insertInto(KNOWN_ABILITY).values(person, ability.mean(), ability.variance());
  }

  private static Query update(DSLContext dsl, UUID person, Belief ability) {
    return dsl.update(KNOWN_ABILITY)
        .set(KNOWN_ABILITY.MEAN, ability.mean())
        .set(KNOWN_ABILITY.VARIANCE, ability.variance())
        .where(KNOWN_ABILITY.PERSON_ID.eq(person));
  }

  private static Query insert(DSLContext dsl, ConceptId part, Belief difficulty) {
    return dsl.insertInto(KNOWN_DIFFICULTY).values(part.value(), difficulty.mean(), difficulty.variance());
  }

  private static Query update(DSLContext dsl, ConceptId part, Belief difficulty) {
    return dsl.update(KNOWN_DIFFICULTY)
        .set(KNOWN_DIFFICULTY.MEAN, difficulty.mean())
        .set(KNOWN_DIFFICULTY.VARIANCE, difficulty.variance())
        .where(KNOWN_DIFFICULTY.PART.eq(part.value()));
  }

  private static Query insert(DSLContext dsl, UUID person, ConceptId part, Trace trace) {
    return dsl.insertInto(KNOWN_HOLD)
        .set(KNOWN_HOLD.PERSON_ID, person)
        .set(KNOWN_HOLD.PART, part.value())
        .set(KNOWN_HOLD.MEAN, trace.hold().mean())
        .set(KNOWN_HOLD.VARIANCE, trace.hold().variance())
        .set(KNOWN_HOLD.ASKED, trace.asked())
        .set(KNOWN_HOLD.LAST_AT, trace.last())
        .set(KNOWN_HOLD.MISSED, trace.missed());
  }

  private static Query update(DSLContext dsl, UUID person, ConceptId part, Trace trace) {
    return dsl.update(KNOWN_HOLD)
        .set(KNOWN_HOLD.MEAN, trace.hold().mean())
        .set(KNOWN_HOLD.VARIANCE, trace.hold().variance())
        .set(KNOWN_HOLD.ASKED, trace.asked())
        .set(KNOWN_HOLD.LAST_AT, trace.last())
        .set(KNOWN_HOLD.MISSED, trace.missed())
        .where(KNOWN_HOLD.PERSON_ID.eq(person), KNOWN_HOLD.PART.eq(part.value()));
  }
}

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
    UUID person =
        dsl.select(DRILL_SITTING.PERSON_ID)
            .from(DRILL_SITTING)
            .where(DRILL_SITTING.ID.eq(sitting))
            .fetchSingle(DRILL_SITTING.PERSON_ID);
    Knowledge knowledge = loadFor(dsl, person, item.key());
    knowledge.learn(new Answered(person, item.key(), asking.get(), credit, at));
    write(dsl, person, knowledge.ability(person));
    write(dsl, item.key(), knowledge.difficulty(item.key()));
    write(dsl, person, item.key(), knowledge.trace(person, item.key()).orElseThrow());
    dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.LAST_AT, at).execute();
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
    answers.stream().map(Answered::person).distinct().forEach(p -> write(dsl, p, knowledge.ability(p)));
    answers.stream().map(Answered::part).distinct().forEach(p -> write(dsl, p, knowledge.difficulty(p)));
    answers.stream()
        .map(a -> new Pair(a.person(), a.part()))
        .distinct()
        .forEach(p -> insert(dsl, p.person(), p.part(), knowledge.trace(p.person(), p.part()).orElseThrow()));
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

  private Knowledge loadFor(DSLContext dsl, UUID person, ConceptId part) {
    Knowledge knowledge = new Knowledge(model);
    dsl.selectFrom(KNOWN_ABILITY)
        .where(KNOWN_ABILITY.PERSON_ID.eq(person))
        .forEach(r -> knowledge.put(person, new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_DIFFICULTY)
        .where(KNOWN_DIFFICULTY.PART.eq(part.value()))
        .forEach(r -> knowledge.put(part, new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_HOLD)
        .where(KNOWN_HOLD.PERSON_ID.eq(person), KNOWN_HOLD.PART.eq(part.value()))
        .forEach(r -> knowledge.put(person, part, trace(r)));
    return knowledge;
  }

  private static Trace trace(Record row) {
    return new Trace(
        new Belief(row.get(KNOWN_HOLD.MEAN), row.get(KNOWN_HOLD.VARIANCE)),
        row.get(KNOWN_HOLD.ASKED),
        row.get(KNOWN_HOLD.LAST_AT),
        row.get(KNOWN_HOLD.MISSED));
  }

  private static void write(DSLContext dsl, UUID person, Belief ability) {
    int there =
        dsl.update(KNOWN_ABILITY)
            .set(KNOWN_ABILITY.MEAN, ability.mean())
            .set(KNOWN_ABILITY.VARIANCE, ability.variance())
            .where(KNOWN_ABILITY.PERSON_ID.eq(person))
            .execute();
    if (there == 0) {
      dsl.insertInto(KNOWN_ABILITY).values(person, ability.mean(), ability.variance()).execute();
    }
  }

  private static void write(DSLContext dsl, ConceptId part, Belief difficulty) {
    int there =
        dsl.update(KNOWN_DIFFICULTY)
            .set(KNOWN_DIFFICULTY.MEAN, difficulty.mean())
            .set(KNOWN_DIFFICULTY.VARIANCE, difficulty.variance())
            .where(KNOWN_DIFFICULTY.PART.eq(part.value()))
            .execute();
    if (there == 0) {
      dsl.insertInto(KNOWN_DIFFICULTY).values(part.value(), difficulty.mean(), difficulty.variance()).execute();
    }
  }

  private static void write(DSLContext dsl, UUID person, ConceptId part, Trace trace) {
    int there =
        dsl.update(KNOWN_HOLD)
            .set(KNOWN_HOLD.MEAN, trace.hold().mean())
            .set(KNOWN_HOLD.VARIANCE, trace.hold().variance())
            .set(KNOWN_HOLD.ASKED, trace.asked())
            .set(KNOWN_HOLD.LAST_AT, trace.last())
            .set(KNOWN_HOLD.MISSED, trace.missed())
            .where(KNOWN_HOLD.PERSON_ID.eq(person), KNOWN_HOLD.PART.eq(part.value()))
            .execute();
    if (there == 0) {
      insert(dsl, person, part, trace);
    }
  }

  private static void insert(DSLContext dsl, UUID person, ConceptId part, Trace trace) {
    dsl.insertInto(KNOWN_HOLD)
        .set(KNOWN_HOLD.PERSON_ID, person)
        .set(KNOWN_HOLD.PART, part.value())
        .set(KNOWN_HOLD.MEAN, trace.hold().mean())
        .set(KNOWN_HOLD.VARIANCE, trace.hold().variance())
        .set(KNOWN_HOLD.ASKED, trace.asked())
        .set(KNOWN_HOLD.LAST_AT, trace.last())
        .set(KNOWN_HOLD.MISSED, trace.missed())
        .execute();
  }
}
